import type { Random } from "../../foundation/random.js";
import { fftPlan } from "../../signal/fft-plan.js";
import { applyBiquad, lowPass } from "../sound/filters.js";
import { scale, setRms } from "../sound/level.js";
import { whiteNoise } from "../sound/noise.js";
import { RATE_HZ } from "../sound/rate.js";

/** The room as two numbers. */
export interface RoomDraw {
  /** Time in which the reverberation falls by 60 dB, seconds. 0 for none. */
  readonly rt60Seconds: number;
  /** Energy of the direct sound over that of the reverberation, dB. */
  readonly directToReverberantDb: number;
}

export const drawRoom = (random: Random): RoomDraw => ({
  rt60Seconds: random.between(0.2, 1.2),
  directToReverberantDb: random.between(-5, 10),
});

const FFT_SIZE = 131_072;
const TAIL_LENGTH = 32_768;
const HOP = FFT_SIZE - TAIL_LENGTH;

/** Exponentially decaying noise, its top end dying sooner. Shape [TAIL_LENGTH], energy as asked. */
function tail(room: RoomDraw, random: Random): Float64Array {
  const response = whiteNoise(TAIL_LENGTH, random);
  const early = response.slice();
  applyBiquad(response, lowPass(random.between(2500, 6000)));
  const first = Math.round(random.between(0.002, 0.008) * RATE_HZ);
  const decay = Math.log(1000) / (room.rt60Seconds * RATE_HZ);
  for (let i = 0; i < TAIL_LENGTH; i++) {
    const bright = Math.exp(-3 * decay * i);
    response[i] =
      i < first ? 0 : Math.exp(-decay * i) * (bright * early[i]! + (1 - bright) * response[i]!);
  }
  setRms(response, 1 / Math.sqrt(TAIL_LENGTH));
  return scale(response, 10 ** (-room.directToReverberantDb / 20));
}

/**
 * Adds the room's reverberation to two signals at once, in place: one rides as the real and the other
 * as the imaginary part of the same transform, which a real response keeps apart. Shapes [n].
 */
export function reverberate(
  one: Float64Array,
  other: Float64Array,
  room: RoomDraw,
  random: Random,
): void {
  if (room.rt60Seconds <= 0) return;
  const plan = fftPlan(FFT_SIZE);
  const response = new Float64Array(2 * FFT_SIZE);
  tail(room, random).forEach((value, i) => (response[2 * i] = value));
  const h = new Float64Array(2 * FFT_SIZE);
  plan.forward(response, h);
  const block = new Float64Array(2 * FFT_SIZE);
  const spectrum = new Float64Array(2 * FFT_SIZE);
  const dryOne = one.slice();
  const dryOther = other.slice();
  for (let start = 0; start < one.length; start += HOP) {
    block.fill(0);
    const length = Math.min(HOP, one.length - start);
    for (let i = 0; i < length; i++) {
      block[2 * i] = dryOne[start + i]!;
      block[2 * i + 1] = dryOther[start + i]!;
    }
    plan.forward(block, spectrum);
    for (let k = 0; k < spectrum.length; k += 2) {
      const re = spectrum[k]! * h[k]! - spectrum[k + 1]! * h[k + 1]!;
      spectrum[k + 1] = spectrum[k]! * h[k + 1]! + spectrum[k + 1]! * h[k]!;
      spectrum[k] = re;
    }
    plan.inverse(spectrum, block);
    const reach = Math.min(FFT_SIZE, one.length - start);
    for (let i = 0; i < reach; i++) {
      one[start + i]! += block[2 * i]!;
      other[start + i]! += block[2 * i + 1]!;
    }
  }
}
