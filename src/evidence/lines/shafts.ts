import { quantiles } from "../../foundation/statistics.js";
import type { TurnClock } from "../../signal/angular.js";
import type { ListeningContext } from "../context.js";
import { CODEC_FRAMES } from "./codec-frames.data.js";

/** What turns in the clip, and how well it is known. */
export interface Shafts {
  /**
   * Drum turns. Where only the motor is heard, those of a stand-in that turns `motorRatio` times slower
   * than the motor: places on its axes are true for what follows the motor, and for nothing else.
   */
  readonly clock: TurnClock;
  readonly drumKnown: boolean;
  /** Turns over the clip. */
  readonly turns: number;
  /** Drum speeds in Hz while it turns: 5 %, 50 % and 95 % quantile. */
  readonly lowHz: number;
  readonly typicalHz: number;
  readonly highHz: number;
  /** Relative standard error of the clock. */
  readonly error: number;
  /** Motor turns per drum turn, or null. */
  readonly motorRatio: number | null;
}

/** A drum that makes fewer turns than this leaves no lines to speak of. */
const FEWEST_TURNS = 8;

/** A stand-in for the drum behind a motor that is heard alone, at the middle of the machine's ratios. */
function standIn({
  motorClock,
  profiles,
}: ListeningContext): { clock: TurnClock; ratio: number } | null {
  if (motorClock === undefined) return null;
  const lows = profiles.map(({ motorToDrum }) => motorToDrum.low);
  const highs = profiles.map(({ motorToDrum }) => motorToDrum.high);
  const ratio = Math.sqrt(Math.min(...lows) * Math.max(...highs));
  const turns = motorClock.turns.map((turn) => turn / ratio);
  return { clock: { ...motorClock, turns }, ratio };
}

/** Shafts of a clip, or null without a speed or with too few turns. */
export function shaftsOf(context: ListeningContext): Shafts | null {
  const { drumClock, speed } = context;
  const alone = drumClock === null ? standIn(context) : null;
  const clock = drumClock ?? alone?.clock;
  if (clock === undefined) return null;
  const turns = clock.turns[clock.turns.length - 1]! - clock.turns[0]!;
  if (turns < FEWEST_TURNS) return null;
  const speeds: number[] = [];
  for (let i = 10; i < clock.turns.length; i += 10) {
    const hz = ((clock.turns[i]! - clock.turns[i - 10]!) * clock.sampleRateHz) / 10;
    if (hz > 0.2) speeds.push(hz);
  }
  const [lowHz, typicalHz, highHz] = quantiles(speeds, [0.05, 0.5, 0.95]);
  return {
    clock,
    drumKnown: alone === null,
    turns,
    lowHz: lowHz!,
    typicalHz: typicalHz!,
    highHz: highHz!,
    error: Math.min(0.02, Math.max(2e-4, speed.relativeError)),
    motorRatio: alone?.ratio ?? speed.motorToDrum?.value ?? null,
  };
}

/** Share by which the speed moves over the clip, between its 5 % and 95 % quantile. */
export const speedSpan = ({ lowHz, typicalHz, highHz }: Shafts): number =>
  (highHz - lowHz) / typicalHz;

/** Rate at which the recording's codec works frame by frame; null for lossless ones. */
export function codecFrameHz(context: ListeningContext): number | null {
  const codec = context.recording.codec.toLowerCase();
  const row = CODEC_FRAMES.find(({ word }) => codec.includes(word));
  if (row === undefined) return null;
  return row.frameHz ?? context.recording.sampleRateHz / row.frameSamples!;
}

/** Running sum of the usable mask on its own grid, shape [frames + 1]. */
export function usableSum(context: ListeningContext): Float64Array {
  const { usableMask } = context;
  const sum = new Float64Array(usableMask.length + 1);
  for (let i = 0; i < usableMask.length; i++) sum[i + 1] = sum[i]! + usableMask[i]!;
  return sum;
}
