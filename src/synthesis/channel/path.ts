import type { Random } from "../../foundation/random.js";
import { RATE_HZ } from "../sound/rate.js";

interface Mode {
  /** y[n] = gain x[n] + a y[n-1] - b y[n-2] */
  readonly a: number;
  readonly b: number;
  readonly gain: number;
}

/** The way of a sound through structure and panels: parallel resonances and a little direct sound. */
export interface Path {
  readonly modes: readonly Mode[];
  readonly direct: number;
}

// Gain that gives a resonator driven by white noise the RMS `level`: the variance of y for unit white
// noise is (1 + b) / ((1 - b) ((1 + b)² - a²)).
function resonator(hz: number, damping: number, level: number): Mode {
  const w = (2 * Math.PI * hz) / RATE_HZ;
  const r = Math.exp(-damping * w);
  const a = 2 * r * Math.cos(w * Math.sqrt(1 - damping * damping));
  const b = r * r;
  const spread = (1 + b) / ((1 - b) * ((1 + b) ** 2 - a * a));
  return { a, b, gain: level / Math.sqrt(spread) };
}

/**
 * Draws a path: 12 to 24 modes from 60 Hz to 9 kHz spaced by chance on a log scale, damping 0.01 to
 * 0.08, falling by 1.5 to 8 dB per octave outside the band that carries the sound. White noise keeps its
 * level along it; a tone gains or loses by where it meets the modes.
 */
export function drawPath(random: Random, carriedHz: readonly [number, number]): Path {
  const count = 4 * random.integer(3, 6);
  const tiltDb = random.between(1.5, 8);
  const [low, high] = carriedHz;
  const drawn = Array.from({ length: count }, () => {
    const hz = 60 * 150 ** random.uniform();
    const octaves = Math.max(0, Math.log2(hz / high), Math.log2(low / hz));
    const level = 10 ** ((-tiltDb * octaves + 4 * random.normal()) / 20);
    return { hz, level, damping: random.between(0.01, 0.08), inverted: random.chance(0.5) };
  });
  const path: Path = {
    modes: drawn.map(({ hz, level, damping, inverted }) =>
      resonator(hz, damping, inverted ? -level : level),
    ),
    direct: 10 ** (random.between(-22, -3) / 20),
  };
  return scaled(path, 1 / Math.sqrt(energyOf(path)));
}

const scaled = (path: Path, factor: number): Path => ({
  modes: path.modes.map((mode) => ({ ...mode, gain: factor * mode.gain })),
  direct: factor * path.direct,
});

// Energy of the impulse response: the gain in power for white noise, with the modes' interference.
function energyOf(path: Path): number {
  const impulse = new Float64Array(RATE_HZ / 2);
  impulse[0] = 1;
  const response = new Float64Array(impulse.length);
  sendAlong(path, impulse, response);
  return response.reduce((sum, x) => sum + x * x, 0);
}

/** Sends a sound along a path; adds the result to `out`. Shapes [n]. */
export function sendAlong(path: Path, input: Float64Array, out: Float64Array): void {
  for (let i = 0; i < input.length; i++) out[i]! += path.direct * input[i]!;
  for (let m = 0; m + 3 < path.modes.length; m += 4) addFour(path.modes, m, input, out);
}

// Four resonators side by side keep the processor's pipelines full.
function addFour(
  modes: readonly Mode[],
  first: number,
  input: Float64Array,
  out: Float64Array,
): void {
  const { a: a0, b: b0, gain: g0 } = modes[first]!;
  const { a: a1, b: b1, gain: g1 } = modes[first + 1]!;
  const { a: a2, b: b2, gain: g2 } = modes[first + 2]!;
  const { a: a3, b: b3, gain: g3 } = modes[first + 3]!;
  let p0 = 0;
  let p1 = 0;
  let p2 = 0;
  let p3 = 0;
  let q0 = 0;
  let q1 = 0;
  let q2 = 0;
  let q3 = 0;
  for (let i = 0; i < input.length; i++) {
    const x = input[i]! + 1e-30; // keeps the states out of the slow denormal range
    const y0 = x + a0 * p0 - b0 * q0;
    const y1 = x + a1 * p1 - b1 * q1;
    const y2 = x + a2 * p2 - b2 * q2;
    const y3 = x + a3 * p3 - b3 * q3;
    q0 = p0;
    q1 = p1;
    q2 = p2;
    q3 = p3;
    p0 = y0;
    p1 = y1;
    p2 = y2;
    p3 = y3;
    out[i]! += g0 * y0 + g1 * y1 + g2 * y2 + g3 * y3;
  }
}
