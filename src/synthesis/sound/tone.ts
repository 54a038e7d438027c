import type { Random } from "../../foundation/random.js";
import { RATE_HZ } from "./rate.js";

const TABLE_SIZE = 4096;

/** One period of a harmonic sound: amplitudes[k] belongs to harmonic k + 1; phases are drawn. */
export function harmonicTable(amplitudes: readonly number[], random: Random): Float64Array {
  const table = new Float64Array(TABLE_SIZE + 1);
  amplitudes.forEach((amplitude, k) => {
    const phase = random.between(0, 2 * Math.PI);
    if (amplitude === 0) return;
    const step = (2 * Math.PI * (k + 1)) / TABLE_SIZE;
    for (let i = 0; i <= TABLE_SIZE; i++) table[i]! += amplitude * Math.sin(step * i + phase);
  });
  return table;
}

/** Adds gain * table(order * turns) to `out`; `turns` may run backwards. Shapes [n]. */
export function addTone(
  out: Float64Array,
  turns: Float64Array,
  order: number,
  table: Float64Array,
  gain = 1,
): void {
  for (let i = 0; i < out.length; i++) {
    const phase = order * turns[i]!;
    const position = (phase - Math.floor(phase)) * TABLE_SIZE;
    const j = position | 0;
    out[i]! += gain * (table[j]! + (position - j) * (table[j + 1]! - table[j]!));
  }
}

const COSINE = Float64Array.from({ length: TABLE_SIZE + 1 }, (_, i) =>
  Math.cos((2 * Math.PI * i) / TABLE_SIZE),
);

/** Multiplies in place by 1 + depth cos(2π order turns + phase). */
export function modulate(
  samples: Float64Array,
  turns: Float64Array,
  order: number,
  depth: number,
  phase = 0,
): Float64Array {
  const offset = phase / (2 * Math.PI);
  for (let i = 0; i < samples.length; i++) {
    const angle = order * turns[i]! + offset;
    const position = (angle - Math.floor(angle)) * TABLE_SIZE;
    const j = position | 0;
    const from = COSINE[j]!;
    samples[i]! *= 1 + depth * (from + (position - j) * (COSINE[j + 1]! - from));
  }
  return samples;
}

/** Harmonics that stay below 20 kHz at the fastest speed met, so that nothing folds back. */
export const fittingHarmonics = (wanted: number, fastestHz: number): number =>
  Math.max(0, Math.min(wanted, Math.floor(20_000 / Math.max(1, fastestHz))));

/** Turns of a clock that runs at a constant rate from a drawn phase. Shape [sampleCount]. */
export function steadyTurns(sampleCount: number, hz: number, random: Random): Float64Array {
  const start = random.uniform();
  const step = hz / RATE_HZ;
  const turns = new Float64Array(sampleCount);
  for (let i = 0; i < sampleCount; i++) turns[i] = start + step * i;
  return turns;
}

/** Amplitudes of a stack: 1/k^steepness with log-normal scatter. */
export const stack = (count: number, steepness: number, random: Random): number[] =>
  Array.from({ length: count }, (_, k) => (k + 1) ** -steepness * Math.exp(0.6 * random.normal()));
