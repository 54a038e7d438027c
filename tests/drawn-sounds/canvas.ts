import { Dice } from "./dice.js";

/** What a clip is painted on: its length, its rate and its own chance. */
export interface Canvas {
  readonly rateHz: number;
  readonly seconds: number;
  readonly length: number;
  readonly dice: Dice;
}

export function stretch(rateHz: number, seconds: number, dice: Dice): Canvas {
  return { rateHz, seconds, length: Math.round(rateHz * seconds), dice };
}

/** One sound over the whole clip, as samples. */
export type Layer = Float32Array;

export function blank(canvas: Canvas): Layer {
  return new Float32Array(canvas.length);
}

export function lay(under: Layer, over: Layer, gain = 1): Layer {
  for (let n = 0; n < under.length; n++) under[n]! += gain * over[n]!;
  return under;
}

export function blend(canvas: Canvas, ...layers: readonly Layer[]): Layer {
  const sum = blank(canvas);
  for (const layer of layers) lay(sum, layer);
  return sum;
}

export const gainOfDb = (db: number): number => Math.pow(10, db / 20);

const FRAME_SECONDS = 0.05;
const SOUNDING_DB = -20;

/** Mean power of every 50 ms. */
export function framePowers(layer: Layer, rateHz: number): Float64Array {
  const frame = Math.round(FRAME_SECONDS * rateHz);
  return Float64Array.from({ length: Math.floor(layer.length / frame) }, (_, k) => {
    let sum = 0;
    for (let n = k * frame; n < (k + 1) * frame; n++) sum += layer[n]! ** 2;
    return sum / frame;
  });
}

/** In which frames a sound is heard: those within 20 dB of its loudest. */
export function soundingFrames(powers: Float64Array): number[] {
  const least = powers.reduce((most, power) => Math.max(most, power), 0) * 10 ** (SOUNDING_DB / 10);
  return [...powers.keys()].filter((k) => powers[k]! >= least && powers[k]! > 0);
}

/** A layer brought to a level, dB, taken over the time in which it sounds. */
export function atLevel(layer: Layer, db: number, rateHz: number): Layer {
  const powers = framePowers(layer, rateHz);
  const frames = soundingFrames(powers);
  if (frames.length === 0) return layer;
  const mean = frames.reduce((sum, k) => sum + powers[k]!, 0) / frames.length;
  const gain = gainOfDb(db) / Math.sqrt(mean);
  return layer.map((value) => value * gain);
}
