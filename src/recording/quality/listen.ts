import { chooseChannel, type ChannelChoice } from "./channel-choice.js";
import { findClipping, type Clipping } from "./clipping.js";
import { codecTraits, type CodecTraits } from "./codec-traits.js";
import { findDamage, finiteSamples, type Damage } from "./damage.js";
import { pumpsGain } from "./gain-pumping.js";
import { findHandling } from "./handling.js";
import { joinIntervals, runsOf } from "./intervals.js";
import { levelsOf, type Levels } from "./levels.js";
import { QUALITY_LIMITS } from "./limits.data.js";
import { listeningCopy } from "./listening-copy.js";
import { suppressesNoise } from "./noise-suppression.js";
import { findSilence } from "./silence.js";
import { findSpeech } from "./speech.js";
import { findSplices } from "./splice.js";
import { usableBand } from "./usable-band.js";
import type { DecodedAudio, Interval } from "../recording.js";
import type { Hertz, Seconds } from "../../foundation/units.js";

/** Everything that was found out about a recording, before it is judged. */
export interface Findings {
  readonly samples: Float32Array;
  readonly sampleRateHz: Hertz;
  readonly durationSeconds: Seconds;
  readonly codec: string;
  readonly traits: CodecTraits;
  readonly channels: ChannelChoice["finding"];
  readonly bandHz: readonly [Hertz, Hertz];
  readonly clipping: Clipping;
  readonly damage: Damage;
  readonly splices: readonly Seconds[];
  readonly silence: readonly Interval[];
  readonly speech: readonly Interval[];
  readonly handling: readonly Interval[];
  readonly clippedBursts: readonly Interval[];
  readonly gainPumping: boolean;
  readonly noiseSuppressed: boolean;
}

/** Clipped stretches of 0.3 s or more that are an accident of the clip, not its habit. */
function clippedBursts(clipping: Clipping, sampleRateHz: Hertz): Interval[] {
  const perBlock = clipping.blockSeconds * sampleRateHz;
  const runs = runsOf(
    Array.from(clipping.perBlock, (count) => count > 0.02 * perBlock),
    1,
  );
  const bursts = runs
    .filter(([first, last]) => last - first >= 2)
    .map(([first, last]) => ({
      startSeconds: first * clipping.blockSeconds,
      endSeconds: (last + 1) * clipping.blockSeconds,
    }));
  const blocks = bursts.reduce((sum, it) => sum + it.endSeconds - it.startSeconds, 0);
  return blocks > 0.2 * clipping.perBlock.length * clipping.blockSeconds ? [] : bursts;
}

// Speech and handling inside silence are silence with something in it: both lists may hold them.
function timeFindings(
  levels: Levels,
  durationSeconds: Seconds,
): {
  silence: Interval[];
  handling: Interval[];
} {
  return {
    silence: joinIntervals(findSilence(levels), durationSeconds),
    handling: joinIntervals(findHandling(levels), durationSeconds),
  };
}

function bandOf(
  samples: Float32Array,
  sampleRateHz: Hertz,
  codec: string,
): { bandHz: readonly [Hertz, Hertz]; traits: CodecTraits } {
  const [low, high] = usableBand(samples, sampleRateHz);
  const traits = codecTraits(codec, high);
  const cap = traits.rebuildsTreble && sampleRateHz >= 32_000;
  return {
    bandHz: [low, cap ? Math.min(high, QUALITY_LIMITS.synthesisedAboveHz.value) : high],
    traits,
  };
}

/** Runs every check on a decoded recording with at least one channel. */
export function listenTo(decoded: DecodedAudio): Findings {
  const { sampleRateHz, codec } = decoded;
  const finite = decoded.channels.map(finiteSamples);
  const choice = chooseChannel(
    finite.map((channel) => channel.samples),
    sampleRateHz,
  );
  const { samples, used } = choice;
  const durationSeconds = samples.length / sampleRateHz;
  const clippings = used.map((c) => findClipping(finite[c]!.samples, sampleRateHz));
  const clipping = clippings.reduce((worst, next) => (next.share > worst.share ? next : worst));
  const { bandHz, traits } = bandOf(samples, sampleRateHz, codec);
  const copy = listeningCopy(samples, sampleRateHz);
  const levels = levelsOf(copy, bandHz);
  const notNumbers = used.reduce((sum, c) => sum + finite[c]!.notNumbers, 0);
  return {
    samples,
    sampleRateHz,
    durationSeconds,
    codec,
    traits,
    channels: choice.finding,
    bandHz,
    clipping,
    damage: findDamage(samples, sampleRateHz, notNumbers),
    splices: findSplices(samples, sampleRateHz, levels),
    ...timeFindings(levels, durationSeconds),
    speech: findSpeech(copy),
    clippedBursts: clippedBursts(clipping, sampleRateHz),
    gainPumping: pumpsGain(copy, levels),
    noiseSuppressed: suppressesNoise(levels, bandHz[1]),
  };
}
