import { blank, type Canvas, type Layer } from "./canvas.js";
import { CURVE_HZ, wander, type Curve } from "./curve.js";

/** One partial: its multiple of the course (any number) and its amplitude. */
export interface Partial {
  readonly order: number;
  readonly level: number;
}

export interface Life {
  /** Amplitude over time. */
  readonly gain?: Curve;
  /** Spread of the pitch, share of itself. */
  readonly jitter?: number;
  /** Spread of each partial's level, dB. */
  readonly shimmerDb?: number;
  /** How long pitch and level remember, seconds. */
  readonly memorySeconds?: number;
}

const TABLE_LENGTH = 4096;
const SINE = Float64Array.from({ length: TABLE_LENGTH + 1 }, (_, k) =>
  Math.sin((2 * Math.PI * k) / TABLE_LENGTH),
);

/** Loud in the middle of the band the converter can carry, gone at its edge. */
function carried(hz: number, rateHz: number): number {
  return Math.max(0, Math.min(1, (0.47 * rateHz - hz) / (0.05 * rateHz)));
}

/** Partials that follow one drawn course of pitch without a break in their phase. */
export function drawTones(
  canvas: Canvas,
  hz: Curve,
  partials: readonly Partial[],
  life: Life = {},
): Layer {
  const { dice, seconds, rateHz, length } = canvas;
  const memory = life.memorySeconds ?? 0.15;
  const jitter = wander(seconds, memory, dice).map((value) => 1 + value * (life.jitter ?? 0));
  const pitch = hz.map((value, k) => Math.max(0, value * jitter[k]!));
  const layer = blank(canvas);
  const shimmerNepers = ((life.shimmerDb ?? 1) * Math.LN10) / 20;
  for (const { order, level } of partials) {
    const breath = wander(seconds, memory * 3, dice);
    let amplitude = 0;
    let turns = dice.unit();
    for (let k = 0; k + 1 < pitch.length; k++) {
      const start = Math.round((k * rateHz) / CURVE_HZ);
      const end = Math.min(length, Math.round(((k + 1) * rateHz) / CURVE_HZ));
      if (start >= end) break;
      const tone = order * pitch[k]!;
      const audible = tone > 15 ? carried(tone, rateHz) : 0;
      const aim = level * audible * (life.gain?.[k] ?? 1) * Math.exp(shimmerNepers * breath[k]!);
      const climb = (aim - amplitude) / (end - start);
      let advance = tone / rateHz;
      const bend = (order * (pitch[k + 1]! - pitch[k]!)) / rateHz / (end - start);
      if (aim > 1e-6 || amplitude > 1e-6) {
        for (let n = start; n < end; n++) {
          layer[n]! += amplitude * SINE[((turns - Math.floor(turns)) * TABLE_LENGTH) | 0]!;
          amplitude += climb;
          turns += advance;
          advance += bend;
        }
      } else {
        turns += advance * (end - start);
      }
      amplitude = aim;
    }
  }
  return layer;
}

/** Harmonics 1..count that fall by drawn steps. */
export function harmonics(
  canvas: Canvas,
  count: number,
  fallDb: number,
  spreadDb: number,
): Partial[] {
  return Array.from({ length: count }, (_, k) => ({
    order: k + 1,
    level: Math.pow(10, (-fallDb * Math.log2(k + 1) + spreadDb * canvas.dice.bell()) / 20),
  }));
}
