import type { RecordingQuality } from "../recording/recording.js";
import type { Phase } from "../machine/words.js";
import { COMPARISON_LIMITS as LIMITS } from "./limits.data.js";
import { carriedBands } from "./fine-bands.js";
import type { Portrait } from "./portrait.js";

/** One of the two recordings, as far as it matters whether they can be compared. */
export interface ComparableSide {
  readonly portrait: Portrait;
  readonly phase: Phase;
  readonly drumRpm: number | null;
  readonly quality: Pick<RecordingQuality, "noiseSuppressed" | "voiceCodec">;
  /** How far single bins rise and fall against their neighbours, dB; null when that cannot be told. */
  readonly binSpreadDb: number | null;
  readonly overdriven: boolean;
  /** The recording cannot carry an answer. */
  readonly blocked: boolean;
}

type SideName = "before" | "after";

/** Why one recording cannot be compared with any other; null when it can. */
export function poorSide(side: ComparableSide, name: SideName): string | null {
  const which = `The recording ${name} the repair`;
  if (side.blocked || side.portrait.blocks.length < LIMITS.leastBlocks) {
    return `${which} holds too little of the machine without talk, silence or handling. Record 20 seconds or more again.`;
  }
  const flutters = side.binSpreadDb !== null && side.binSpreadDb > LIMITS.binSpreadDb;
  if (side.quality.noiseSuppressed || side.quality.voiceCodec || flutters) {
    return `${which} was made with noise suppression or a speech codec, which takes steady noise away. Switch voice processing off, or use another recording app.`;
  }
  if (side.overdriven) {
    return `${which} is overdriven, which flattens blows and clicks. Record from further away.`;
  }
  return null;
}

function otherPoint(before: ComparableSide, after: ComparableSide): string | null {
  if (before.phase !== after.phase) {
    return `Before it was ${before.phase}, after it is ${after.phase}. Record the same phase.`;
  }
  const { drumRpm: a } = before;
  const { drumRpm: b } = after;
  if (a !== null && b !== null && Math.abs(Math.log(a / b)) > LIMITS.speedShare) {
    return `The drum turned at ${Math.round(a)} rpm before and at ${Math.round(b)} rpm after. Record at the same speed, with the same programme and no load.`;
  }
  return null;
}

/** Why the two cannot be compared, and how to record so that they can; null when they can. */
export function whyNotComparable(before: ComparableSide, after: ComparableSide): string | null {
  const poor = poorSide(before, "before") ?? poorSide(after, "after");
  if (poor !== null) return poor;
  const other = otherPoint(before, after);
  if (other !== null) return other;
  const had = carriedBands(before.portrait.blocks[0]!);
  const has = new Set(carriedBands(after.portrait.blocks[0]!));
  const common = had.filter((band) => has.has(band)).length;
  if (common < LIMITS.leastBands || had.length - common > LIMITS.mostBandsLost) {
    return "The recordings carry different pitches: one lacks bass or treble that the other has. Use the same phone and app, and send the file itself.";
  }
  return null;
}
