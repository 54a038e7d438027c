import type { Dice } from "./dice.js";
import { planOf } from "./fft.js";
import { dbOf, type Colour } from "./painted-noise.js";

const BLOCK = 32_768;

/** A room's answer: the direct sound, a few early echoes, then noise that dies away, high tones first. */
function drawEchoes(rateHz: number, dice: Dice): Float64Array {
  const answer = new Float64Array(BLOCK);
  const decaySeconds = dice.ratio(0.15, 0.7);
  const wet = dice.ratio(0.08, 0.6);
  answer[0] = 1;
  for (let k = dice.whole(3, 9); k > 0; k--) {
    const seconds = dice.between(0.0008, 0.02);
    answer[Math.round(seconds * rateHz)]! += (dice.chance(0.5) ? 1 : -1) * wet * dice.ratio(0.2, 1);
  }
  const start = Math.round(0.006 * rateHz);
  const end = Math.min(BLOCK, Math.round(1.1 * decaySeconds * rateHz));
  let dull = 0;
  for (let n = start; n < end; n++) {
    const fall = Math.exp((-6.9 * n) / (decaySeconds * rateHz));
    const keep = 0.15 + (0.6 * n) / end;
    dull = keep * dull + (1 - keep) * dice.bell();
    answer[n]! += wet * 0.12 * fall * dull * Math.sqrt(48_000 / rateHz);
  }
  return answer;
}

/** The microphone's colour at the lowest delay it can have (from the log spectrum's causal part). */
function causal(colour: Colour, rateHz: number): Float64Array {
  const size = 2 * BLOCK;
  const { engine } = planOf(size);
  const log = new Float64Array(2 * size);
  for (let k = 0; k < size; k++) {
    const hz = (Math.min(k, size - k) * rateHz) / size;
    log[2 * k] = (dbOf(colour, hz) * Math.LN10) / 20;
  }
  const folded = new Float64Array(2 * size);
  engine.inverseTransform(folded, log);
  for (let n = 1; n < size; n++) {
    const weight = n < size / 2 ? 2 : 0;
    folded[2 * n]! *= weight;
    folded[2 * n + 1]! *= weight;
  }
  engine.transform(log, folded);
  for (let k = 0; k < size; k++) {
    const gain = Math.exp(log[2 * k]!);
    const phase = log[2 * k + 1]!;
    log[2 * k] = gain * Math.cos(phase);
    log[2 * k + 1] = gain * Math.sin(phase);
  }
  return log;
}

function times(a: Float64Array, b: Float64Array): void {
  for (let k = 0; k < a.length; k += 2) {
    const real = a[k]! * b[k]! - a[k + 1]! * b[k + 1]!;
    a[k + 1] = a[k]! * b[k + 1]! + a[k + 1]! * b[k]!;
    a[k] = real;
  }
}

/** Two sounds through one room and one microphone: one as the real, one as the imaginary part of the same blocks. */
export function throughRoom(
  pair: readonly [Float32Array, Float32Array],
  rateHz: number,
  colour: Colour,
  dice: Dice,
): [Float32Array, Float32Array] {
  const size = 2 * BLOCK;
  const { engine } = planOf(size);
  const echoes = drawEchoes(rateHz, dice);
  const padded = new Float64Array(2 * size);
  echoes.forEach((value, n) => (padded[2 * n] = value));
  const answer = new Float64Array(2 * size);
  engine.transform(answer, padded);
  times(answer, causal(colour, rateHz));
  const [first, second] = pair;
  const { length } = first;
  const out: [Float32Array, Float32Array] = [new Float32Array(length), new Float32Array(length)];
  const spectrum = new Float64Array(2 * size);
  for (let start = 0; start < length; start += BLOCK) {
    padded.fill(0);
    for (let n = 0; n < BLOCK && start + n < length; n++) {
      padded[2 * n] = first[start + n]!;
      padded[2 * n + 1] = second[start + n]!;
    }
    engine.transform(spectrum, padded);
    times(spectrum, answer);
    engine.inverseTransform(padded, spectrum);
    for (let n = 0; n < size && start + n < length; n++) {
      out[0][start + n]! += padded[2 * n]!;
      out[1][start + n]! += padded[2 * n + 1]!;
    }
  }
  return out;
}
