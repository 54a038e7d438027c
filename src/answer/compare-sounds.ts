import type { ListeningContext } from "../evidence/context.js";
import type { Interval } from "../recording/recording.js";
import type { Pair, PairedClips } from "./compare-picture-data.js";
import { bandOf, bandWords, faded, gainFor, pieceOf, stretchOf } from "./picture-data-sounds.js";
import type { SoundClip } from "./picture-data.js";

interface Side {
  readonly name: "Before" | "After";
  readonly context: ListeningContext;
  readonly stretch: Interval | null;
  readonly notes: readonly string[];
}

const sideOf = (name: Side["name"], context: ListeningContext): Side => ({
  name,
  context,
  ...stretchOf(context),
});

function recordingClip({ name, context, stretch }: Side): SoundClip[] {
  if (stretch === null) return [];
  const piece = pieceOf(context, stretch);
  const { soundRateHz: rateHz } = context;
  return [
    {
      id: "recording",
      title: `${name}: the recording`,
      note: "As recorded, both as loud as each other.",
      fromSeconds: stretch.startSeconds,
      samples: faded(piece, rateHz, gainFor(piece)),
      sampleRateHz: rateHz,
    },
  ];
}

/**
 * One band of both at one volume: each gets the gain of its whole recording, then both the same further
 * gain, so that the difference stays.
 */
function bandClips(sides: readonly Side[], bandHz: readonly [number, number]): SoundClip[][] {
  const pieces = sides.map(({ context, stretch }) => {
    const piece = pieceOf(context, stretch!);
    const gain = gainFor(piece);
    return bandOf(piece, context.soundRateHz, bandHz).map((x) => x * gain);
  });
  const common = Math.min(...pieces.map(gainFor).filter((gain) => gain > 0));
  return sides.map(({ name, context, stretch }, i) => [
    {
      id: "band",
      title: `${name}: only ${bandWords(bandHz)}`,
      note: "Where the noise before is heard best. Louder means that more of the sound lies here.",
      fromSeconds: stretch!.startSeconds,
      samples: faded(pieces[i]!, context.soundRateHz, common),
      sampleRateHz: context.soundRateHz,
    },
  ]);
}

/** Clips of both recordings, and of the noise's band of both. */
export function pairedClips(
  contexts: Pair<ListeningContext>,
  bandHz: readonly [number, number] | null,
): PairedClips {
  const sides = [sideOf("Before", contexts.before), sideOf("After", contexts.after)];
  const notes = sides.flatMap((side) => side.notes.map((note) => `${side.name}: ${note}`));
  const whole = sides.map(recordingClip);
  const both = sides.every(({ stretch }) => stretch !== null);
  const band = bandHz !== null && both ? bandClips(sides, bandHz) : [[], []];
  return {
    before: [...whole[0]!, ...band[0]!],
    after: [...whole[1]!, ...band[1]!],
    notes,
  };
}
