import { decoyPValue } from "../../foundation/significance.js";
import { fitLine, mean, median } from "../../foundation/statistics.js";
import { fftPlan } from "../../signal/fft-plan.js";
import { logBackground, logOf } from "../../signal/spectral-background.js";
import { CELLS, type TurnBlock } from "./turn-grid.js";

const TRANSFORM = 2048;
/** Distance of neighbouring bins in orders: 1/64. */
const ORDER_STEP = CELLS / TRANSFORM;
const LOWEST_ORDER = 0.45;
const HIGHEST_ORDER = 14;
/** Half-width of the stretch of orders that makes the noise level at its middle. */
const LEVEL_ORDERS = 1.5;
/** Highest order that serves as decoy of a single order. */
const HIGHEST_DECOY = 3.9;
const COMB_DECOYS = 199;
/** No p-value is believed below this: the decoys of one clip cannot bear more. */
const SMALLEST_P = 1e-6;
/** Multiples of the golden ratio's fraction are spread evenly, and no two neighbours are alike. */
const GOLDEN = 0.6180339887498949;
/** What one harmonic may add to a comb, in units of its expected power. */
const LARGEST_SHARE = 60;
/** A swell is divided out down to a quarter of the mean level. */
const LEAST_SWELL = 0.25;

/**
 * Logarithm of amplitude over the angle of a block, mean over bands, its course from turn to turn taken
 * out: shape [count * CELLS].
 */
export function logLevel(powers: readonly Float64Array[], block: TurnBlock): Float64Array {
  const offset = block.first * CELLS;
  const out = new Float64Array(block.count * CELLS);
  for (const power of powers) {
    for (let i = 0; i < out.length; i++) {
      out[i]! += (0.5 * Math.log(power[offset + i]! + 1e-30)) / powers.length;
    }
  }
  return withoutCourse(out);
}

/** Takes out straight lines between turn means that are smoothed over their neighbours. */
function withoutCourse(values: Float64Array): Float64Array {
  const means = new Float64Array(values.length / CELLS);
  for (let i = 0; i < values.length; i++) means[Math.floor(i / CELLS)]! += values[i]! / CELLS;
  // Weights 1, 2, 1 let nothing through at one half per turn, so that half orders keep their height.
  const smooth = means.map((own, t) => {
    const before = means[t - 1] ?? own;
    const after = means[t + 1] ?? own;
    return 0.25 * before + 0.5 * own + 0.25 * after;
  });
  return values.map((value, i) => {
    const position = (i + 0.5) / CELLS - 0.5;
    const t = Math.min(means.length - 2, Math.max(0, Math.floor(position)));
    return value - smooth[t]! - (position - t) * ((smooth[t + 1] ?? smooth[t]!) - smooth[t]!);
  });
}

/**
 * The log level of a block less a smooth swell once a turn: divided by 1 + m cos(θ - φ) with the block's own
 * first harmonic, so that none of the swell's higher harmonics is left. Blows keep theirs.
 */
export function withoutSwell(level: Float64Array): Float64Array {
  const amplitude = level.map(Math.exp);
  const centre = mean(amplitude);
  let [re, im] = [0, 0];
  for (let i = 0; i < amplitude.length; i++) {
    re += (2 / amplitude.length) * amplitude[i]! * Math.cos((2 * Math.PI * i) / CELLS);
    im += (2 / amplitude.length) * amplitude[i]! * Math.sin((2 * Math.PI * i) / CELLS);
  }
  return level.map((value, i) => {
    const angle = (2 * Math.PI * i) / CELLS;
    const swell = 1 + (re * Math.cos(angle) + im * Math.sin(angle)) / centre;
    return value - Math.log(Math.max(LEAST_SWELL, swell));
  });
}

/** Squared amplitudes over orders: 1 where a block holds a cosine of amplitude 1. */
function orderSpectrum(blocks: readonly Float64Array[]): Float64Array {
  const plan = fftPlan(TRANSFORM);
  const bins = new Float64Array(2 * TRANSFORM);
  const power = new Float64Array(Math.ceil(HIGHEST_ORDER / ORDER_STEP) + 1);
  for (const block of blocks) {
    const padded = new Float64Array(TRANSFORM);
    const n = block.length;
    // Hann: its mean is 1 here, so that amplitudes stay as they are.
    for (let i = 0; i < n; i++) padded[i] = block[i]! * (1 - Math.cos((2 * Math.PI * i) / n));
    plan.forwardReal(padded, bins);
    const scale = 4 / (n * n * blocks.length);
    for (let k = 0; k < power.length; k++) {
      power[k]! += scale * (bins[2 * k]! ** 2 + bins[2 * k + 1]! ** 2);
    }
  }
  return power;
}

/** What stands at whole and half orders of the drum, against all other orders. */
export interface OrderPowers {
  /** Squared amplitude at an order, noise taken off; may be negative. */
  readonly excess: (order: number) => number;
  /** Typical squared amplitude of noise near an order. */
  readonly noise: (order: number) => number;
  /** p-value of an order against decoy orders of the same clip. */
  readonly p: (order: number) => number;
  /** p-value of several multiples of the drum's turn together, against the same multiples of decoys. */
  readonly combP: (multiples: readonly number[]) => number;
}

/** Chance that a Gamma(shape, 1) variable exceeds x, for whole shapes: e^-x Σ_{i<shape} x^i / i!. */
function gammaTail(shape: number, x: number): number {
  let term = Math.exp(-x);
  let sum = 0;
  for (let i = 0; i < shape; i++) {
    sum += term;
    term *= x / (i + 1);
  }
  return Math.min(1, sum);
}

/**
 * Mean over blocks of squared order amplitudes, and their significance.
 *
 * Decoys are orders away from whole ones (and from half ones in long blocks) by over 1.4 / (turns of a
 * block), each over the background of the orders round it. Blocks are summed without
 * their phases, so that an error of the speed cannot cancel them; rhythms not tied to the drum raise the
 * decoys, too. A comb is the sum over its multiples; its decoys take as many orders
 * from anywhere between whole ones.
 *
 * @param blocks shape [blockCount][turns * CELLS]
 */
export function orderPowers(blocks: readonly Float64Array[], blockTurns: number): OrderPowers {
  const power = orderSpectrum(blocks);
  const at = (order: number): number => power[Math.round(order / ORDER_STEP)] ?? 0;
  const guard = Math.min(0.2, 1.4 / blockTurns);
  const grid = blockTurns >= 16 ? 2 : 1;
  const clear: number[] = [];
  for (let order = LOWEST_ORDER; order < HIGHEST_ORDER; order += ORDER_STEP) {
    if (Math.abs(order - Math.round(grid * order) / grid) > guard) clear.push(order);
  }
  const lowest = Math.round(LOWEST_ORDER / ORDER_STEP);
  const background = logBackground(logOf(power.subarray(lowest)), LEVEL_ORDERS / ORDER_STEP);
  const expected = (order: number): number =>
    Math.exp(background[Math.max(0, Math.round(order / ORDER_STEP) - lowest)]!);
  const relativeAt = (order: number): number =>
    Math.min(LARGEST_SHARE, at(order) / expected(order));
  // Single orders lie at the low end, where the background falls steeply: a line in ln power over ln order.
  const near = clear.filter((order) => order <= HIGHEST_DECOY);
  const trend = fitLine(
    near.map(Math.log),
    near.map((order) => Math.log(at(order) + 1e-15)),
  );
  const falling = (order: number): number =>
    Math.exp(trend.intercept + trend.slope * Math.log(order));
  const relative = near.map((order) => at(order) / falling(order));
  const level = median(relative);
  // The larger of two p-values: against the decoys, which are few; and against Gaussian noise of their mean,
  // for which a mean over n blocks of squared amplitudes is Gamma(n) / n. Both must find the order unusual.
  const p = (observed: number, decoys: readonly number[], terms: number): number => {
    const shape = terms * blocks.length;
    const gamma = gammaTail(shape, (shape * observed) / mean(decoys));
    return Math.max(SMALLEST_P, decoyPValue(observed, decoys), gamma);
  };
  return {
    excess: (order) => at(order) - level * falling(order),
    noise: (order) => level * falling(order),
    p: (order) => p(at(order) / falling(order), relative, 1),
    combP: (multiples) => {
      const observed = multiples.reduce((sum, multiple) => sum + relativeAt(multiple), 0);
      const decoys = Array.from({ length: COMB_DECOYS }, (_, j) => {
        let sum = 0;
        for (let i = 0; i < multiples.length; i++) {
          const place = ((j * multiples.length + i + 1) * GOLDEN) % 1;
          sum += relativeAt(clear[Math.floor(place * clear.length)]!);
        }
        return sum;
      });
      return p(observed, decoys, multiples.length);
    },
  };
}
