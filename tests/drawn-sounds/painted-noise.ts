import { blank, gainOfDb, type Canvas, type Layer } from "./canvas.js";
import { CURVE_HZ, type Curve } from "./curve.js";
import type { Dice } from "./dice.js";
import { planOf } from "./fft.js";

/** A colour of noise: level in dB at drawn frequencies, straight between them over the octaves. */
export type Colour = readonly (readonly [hz: number, db: number])[];

/** One stroke of the brush: a colour and how its amplitude goes over time. */
export interface Strand {
  readonly colour: Colour;
  readonly level?: Curve;
  /** Slow drift that differs from octave to octave, dB. */
  readonly driftDb?: number;
}

export function dbOf(colour: Colour, hz: number): number {
  const octave = Math.log2(Math.max(hz, 10));
  let k = 0;
  while (k < colour.length - 2 && Math.log2(colour[k + 1]![0]) < octave) k++;
  const [lowHz, lowDb] = colour[k]!;
  const [highHz, highDb] = colour[Math.min(k + 1, colour.length - 1)]!;
  const low = Math.log2(lowHz);
  const high = Math.log2(highHz);
  if (high <= low || octave <= low) return lowDb;
  return lowDb + (highDb - lowDb) * Math.min(1, (octave - low) / (high - low));
}

/** A band with drawn skirts, dB an octave. */
export function band(lowHz: number, highHz: number, skirtDb = 18): Colour {
  return [
    [lowHz / 8, -3 * skirtDb],
    [lowHz, 0],
    [highHz, 0],
    [highHz * 8, -3 * skirtDb],
  ];
}

/** A floor that falls by `slopeDb` an octave above a knee, with drawn bumps of a room or a body. */
export function floorColour(dice: Dice, kneeHz: number, slopeDb: number, bumpDb: number): Colour {
  const points: [number, number][] = [[kneeHz / 4, -12 - dice.between(0, 10)]];
  for (let hz = kneeHz; hz < 24_000; hz *= dice.between(1.25, 1.7)) {
    points.push([hz, -slopeDb * Math.log2(hz / kneeHz) + bumpDb * dice.bell()]);
  }
  return points;
}

const DRIFT_SECONDS = 1.5;
const OCTAVES = 11;
const LOWEST_HZ = 20;

/** Drawn hills in the plane of time and octaves, spread 1; read between its knots by straight lines. */
function drawHills(seconds: number, dice: Dice): Float64Array[] {
  return Array.from({ length: Math.ceil(seconds / DRIFT_SECONDS) + 2 }, () =>
    Float64Array.from({ length: OCTAVES + 1 }, () => dice.bell()),
  );
}

interface Brush {
  readonly gains: Float64Array;
  readonly level: Curve | undefined;
  readonly driftDb: number;
  readonly hills: Float64Array[];
}

const brushOf = (strand: Strand, binHz: number, bins: number, canvas: Canvas): Brush => ({
  gains: Float64Array.from({ length: bins }, (_, k) => gainOfDb(dbOf(strand.colour, k * binHz))),
  level: strand.level,
  driftDb: strand.driftDb ?? 0,
  hills: drawHills(canvas.seconds, canvas.dice),
});

/** Adds the power a brush leaves in one frame. */
function stroke(power: Float64Array, brush: Brush, timeSeconds: number, octaves: Float64Array) {
  const place = Math.min(Math.round(timeSeconds * CURVE_HZ), (brush.level?.length ?? 1) - 1);
  const level = brush.level ? brush.level[place]! : 1;
  if (level <= 0) return;
  const row = timeSeconds / DRIFT_SECONDS;
  const along = row - Math.floor(row);
  const now = brush.hills[Math.floor(row)]!;
  const next = brush.hills[Math.floor(row) + 1]!;
  const lift = now.map((db, k) =>
    Math.pow(10, (brush.driftDb * (db + (next[k]! - db) * along)) / 10),
  );
  for (let k = 1; k < power.length; k++) {
    const octave = octaves[k]!;
    const below = Math.floor(octave);
    const hill = lift[below]! + (lift[below + 1]! - lift[below]!) * (octave - below);
    power[k]! += hill * (level * brush.gains[k]!) ** 2;
  }
}

/**
 * Noise painted in the plane of time and frequency and turned back into sound: each frame gets a magnitude from
 * the strands and a phase by chance, and overlaps its neighbours by half under a sine window.
 */
export function paintNoise(canvas: Canvas, strands: readonly Strand[]): Layer {
  const size = canvas.rateHz > 20_000 ? 1024 : 512;
  const half = size / 2;
  const { engine, out } = planOf(size);
  const binHz = canvas.rateHz / size;
  const brushes = strands.map((strand) => brushOf(strand, binHz, half, canvas));
  const octaves = Float64Array.from({ length: half }, (_, k) =>
    Math.min(OCTAVES - 0.01, Math.max(0, Math.log2(Math.max(k * binHz, LOWEST_HZ) / LOWEST_HZ))),
  );
  const window = Float64Array.from({ length: size }, (_, n) =>
    Math.sin((Math.PI * (n + 0.5)) / size),
  );
  const spectrum = new Float64Array(2 * size);
  const power = new Float64Array(half);
  const layer = blank(canvas);
  const put = (start: number, part: 0 | 1) => {
    const last = Math.min(size, canvas.length - start);
    for (let n = Math.max(0, -start); n < last; n++) {
      layer[start + n]! += window[n]! * out[2 * n + part]!;
    }
  };
  for (let start = -half; start < canvas.length; start += size) {
    power.fill(0);
    const time = Math.max(0, (start + size) / canvas.rateHz);
    for (const brush of brushes) stroke(power, brush, time, octaves);
    for (let k = 1; k < half; k++) {
      // Both sides by chance: the real and the imaginary part of the inverse are two frames of noise.
      const magnitude = Math.sqrt(power[k]!);
      for (const bin of [2 * k, 2 * (size - k)]) {
        spectrum[bin] = magnitude * (canvas.dice.unit() - 0.5);
        spectrum[bin + 1] = magnitude * (canvas.dice.unit() - 0.5);
      }
    }
    engine.inverseTransform(out, spectrum);
    put(start, 0);
    put(start + half, 1);
  }
  return layer;
}
