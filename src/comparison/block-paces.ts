import { movingMean } from "../evidence/character/level-series.js";
import { FRAME_RATE_HZ } from "./level-frames.js";

/** How fast a rise of level is: a click, a blow, a swell. */
export const PACES = ["click", "blow", "swell"] as const;
export type Pace = (typeof PACES)[number];

// Half-widths of the smoothing and of the trend that is taken out, seconds: choices.
const WIDTHS: Readonly<Record<Pace, readonly [smooth: number, trend: number]>> = {
  click: [0.012, 0.24],
  blow: [0.048, 0.8],
  swell: [0.16, 2],
};

/** A level at one pace: smoothed, its slower course taken out. Shape as the input, dB. */
export function atPace(level: Float64Array, pace: Pace): Float64Array {
  const [smooth, trend] = WIDTHS[pace];
  const kept = movingMean(level, Math.round(smooth * FRAME_RATE_HZ));
  const course = movingMean(kept, Math.round(trend * FRAME_RATE_HZ));
  return kept.map((value, i) => value - course[i]!);
}
