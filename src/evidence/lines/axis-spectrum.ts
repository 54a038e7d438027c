import type { TurnClock } from "../../signal/angular.js";
import { fftPlan, nextPowerOfTwo } from "../../signal/fft-plan.js";
import { cubicAt } from "../../signal/resample.js";
import { windowOf } from "../../signal/window.js";
import { localLevel } from "./local-level.js";

/** A whitened, block-averaged spectrum over orders of a shaft, or over hertz. */
export interface AxisSpectrum {
  /**
   * Shape [bins]: 1 + (mean height over background - 1) * √blocks, heights over 12 by
   * their logarithm. Around 1 ± 1 in noise whatever
   * the number of blocks; 0 where nothing could be measured.
   */
  readonly excess: Float64Array;
  /** Shape [bins]: mean squared magnitude, not whitened; unit of its own. */
  readonly power: Float64Array;
  /** Distance between bins, in orders (or Hz). */
  readonly bin: number;
  /** Orders (or Hz) that two lines must be apart to be told apart: the main lobe's half-width. */
  readonly resolution: number;
  readonly blocks: number;
}

export interface AxisOptions {
  /** Length of a block in turns of the clock (seconds when the axis is hertz). */
  readonly blockTurns: number;
  /** Highest order kept. */
  readonly maxOrder: number;
  /** Frequencies in Hz of steady lines that are left out of every block, with ±`steadyHalfHz`. */
  readonly steadyHz?: readonly number[];
  readonly steadyHalfHz?: number;
  /** Share of usable samples over time, as a running sum on the clock's grid; blocks under half are left out. */
  readonly usableSum?: Float64Array;
}

// Noise bins seldom exceed this. Higher lines count by their logarithm: still told apart, but one loud
// moment does not outweigh the rest of the clip.
const LINEAR_UP_TO = 12;

const compressed = (ratio: number): number =>
  ratio <= LINEAR_UP_TO ? ratio : LINEAR_UP_TO * (1 + Math.log(ratio / LINEAR_UP_TO));

// Hann blocks that overlap by a third share little; each costs a transform (Welch 1967).
const OVERLAP = 1 / 3;

interface Tally {
  readonly ratio: Float64Array;
  readonly power: Float64Array;
  readonly count: Float64Array;
  blocks: number;
}

interface Block {
  readonly startTurn: number;
  readonly turns: number;
  readonly startSeconds: number;
  readonly endSeconds: number;
}

function secondsAtTurn(clock: TurnClock, turn: number): number {
  const { turns, sampleRateHz } = clock;
  let low = 0;
  let high = turns.length - 1;
  while (high - low > 1) {
    const middle = (low + high) >>> 1;
    if (turns[middle]! <= turn) low = middle;
    else high = middle;
  }
  const step = turns[high]! - turns[low]!;
  return (low + (step > 0 ? (turn - turns[low]!) / step : 0)) / sampleRateHz;
}

function blocksOf(clock: TurnClock, wanted: number): Block[] {
  const total = clock.turns[clock.turns.length - 1]! - clock.turns[0]!;
  if (!(total > 0)) return [];
  const turns = total <= 1.5 * wanted ? total : wanted;
  const count =
    total <= 1.5 * wanted ? 1 : Math.max(2, Math.round((total / turns - OVERLAP) / (1 - OVERLAP)));
  const hop = count > 1 ? (total - turns) / (count - 1) : 0;
  return Array.from({ length: count }, (_, i) => {
    const startTurn = clock.turns[0]! + i * hop;
    return {
      startTurn,
      turns,
      startSeconds: secondsAtTurn(clock, startTurn),
      endSeconds: secondsAtTurn(clock, startTurn + turns),
    };
  });
}

/** Samples of one block at even angle, windowed; `out` beyond the block is zero. */
function fillBlock(
  { signal, rateHz }: { readonly signal: Float64Array; readonly rateHz: number },
  clock: TurnClock,
  block: Block,
  out: Float64Array,
  samplesPerTurn: number,
): void {
  const count = Math.min(out.length, Math.floor(block.turns * samplesPerTurn));
  const { turns, sampleRateHz } = clock;
  const stepRe = Math.cos((2 * Math.PI) / count);
  const stepIm = Math.sin((2 * Math.PI) / count);
  let re = 1;
  let im = 0;
  const scale = rateHz / sampleRateHz;
  let i = Math.max(0, Math.floor(block.startSeconds * sampleRateHz) - 1);
  for (let m = 0; m < count; m++) {
    const wanted = block.startTurn + m / samplesPerTurn;
    while (i < turns.length - 2 && turns[i + 1]! <= wanted) i++;
    const step = turns[i + 1]! - turns[i]!;
    const position = (i + (step > 0 ? (wanted - turns[i]!) / step : 0)) * scale;
    // Hann window by rotation: block lengths differ from clip to clip, so it is not kept.
    out[m] = 0.5 * (1 - re) * cubicAt(signal, position);
    const nextRe = re * stepRe - im * stepIm;
    im = re * stepIm + im * stepRe;
    re = nextRe;
  }
  out.fill(0, count);
}

/** Bins of steady lines in a block: a line at f lies at orders f / speed, smeared as the speed moves. */
function steadyBins(
  block: Block,
  bin: number,
  bins: number,
  options: AxisOptions,
): Uint8Array | null {
  const { steadyHz = [], steadyHalfHz = 0.3 } = options;
  if (steadyHz.length === 0) return null;
  const speedHz = block.turns / (block.endSeconds - block.startSeconds);
  const out = new Uint8Array(bins);
  for (const hz of steadyHz) {
    const low = Math.round((hz - steadyHalfHz) / speedHz / bin - 1);
    const high = Math.round((hz + steadyHalfHz) / speedHz / bin + 1);
    if (low < bins) out.fill(1, Math.max(0, low), Math.max(0, high + 1));
  }
  return out;
}

function addBlock(tally: Tally, power: Float64Array, left: Uint8Array | null): void {
  const level = localLevel(power);
  const n = Math.min(power.length, tally.ratio.length);
  for (let k = 1; k < n; k++) {
    if (left !== null && left[k] === 1) continue;
    tally.ratio[k]! += compressed(power[k]! / level[k]!);
    tally.power[k]! += power[k]!;
    tally.count[k]!++;
  }
  tally.blocks++;
}

function finish(tally: Tally, bin: number, resolution: number): AxisSpectrum {
  const excess = new Float64Array(tally.ratio.length);
  const power = new Float64Array(tally.ratio.length);
  for (let k = 1; k < excess.length; k++) {
    const count = tally.count[k]!;
    if (count === 0) {
      // A hole would look like silence to whoever measures a background.
      power[k] = power[k - 1]!;
      continue;
    }
    excess[k] = 1 + (tally.ratio[k]! / count - 1) * Math.sqrt(count);
    power[k] = tally.power[k]! / count;
  }
  return { excess, power, bin, resolution, blocks: tally.blocks };
}

const newTally = (bins: number): Tally => ({
  ratio: new Float64Array(bins),
  power: new Float64Array(bins),
  count: new Float64Array(bins),
  blocks: 0,
});

const usableShare = (sum: Float64Array, clock: TurnClock, block: Block): number => {
  const from = Math.floor(block.startSeconds * clock.sampleRateHz);
  const to = Math.min(sum.length - 1, Math.floor(block.endSeconds * clock.sampleRateHz));
  return to > from ? (sum[to]! - sum[from]!) / (to - from) : 0;
};

/**
 * Order spectrum of a signal against a shaft's clock: Welch's method in angle, each block resampled to
 * even angle at no less than the signal's own rate (so nothing aliases), whitened by its own
 * background, then averaged. Null when no block is usable.
 */
export function orderSpectrum(
  signal: Float64Array,
  rateHz: number,
  clock: TurnClock,
  options: AxisOptions,
): AxisSpectrum | null {
  const blocks = blocksOf(clock, options.blockTurns);
  if (blocks.length === 0) return null;
  const padded = nextPowerOfTwo(blocks[0]!.turns);
  const bin = 1 / padded;
  const tally = newTally(Math.floor(options.maxOrder / bin) + 1);
  let samples = new Float64Array(0);
  let bins = new Float64Array(0);
  for (const block of blocks) {
    if (options.usableSum && usableShare(options.usableSum, clock, block) < 0.5) continue;
    const speedHz = block.turns / (block.endSeconds - block.startSeconds);
    const samplesPerTurn = Math.max(2, nextPowerOfTwo(rateHz / speedHz));
    const size = padded * samplesPerTurn;
    if (samples.length !== size) {
      samples = new Float64Array(size);
      bins = new Float64Array(2 * size);
    }
    fillBlock({ signal, rateHz }, clock, block, samples, samplesPerTurn);
    fftPlan(size).forwardReal(samples, bins);
    // Beyond half the signal's rate there is only interpolation error.
    const top = Math.min(tally.ratio.length, Math.floor((0.47 * rateHz) / speedHz / bin));
    const power = new Float64Array(top);
    for (let k = 0; k < top; k++) power[k] = bins[2 * k]! ** 2 + bins[2 * k + 1]! ** 2;
    addBlock(tally, power, steadyBins(block, bin, top, options));
  }
  return tally.blocks === 0 ? null : finish(tally, bin, 2 / blocks[0]!.turns);
}

/** The same over hertz: blocks of `blockSamples` (a power of two). */
export function timeSpectrum(
  signal: Float64Array,
  rateHz: number,
  blockSamples: number,
  usableAt: (seconds: number) => boolean = () => true,
): AxisSpectrum | null {
  const size = Math.min(blockSamples, nextPowerOfTwo(signal.length));
  const length = Math.min(size, signal.length);
  const window = windowOf("hann", length);
  const samples = new Float64Array(size);
  const bins = new Float64Array(2 * size);
  const tally = newTally(size / 2);
  const hop = Math.round(size * (1 - OVERLAP));
  for (let start = 0; start + length <= signal.length; start += hop) {
    if (!usableAt((start + length / 2) / rateHz)) continue;
    for (let i = 0; i < length; i++) samples[i] = window[i]! * signal[start + i]!;
    fftPlan(size).forwardReal(samples, bins);
    const power = new Float64Array(size / 2);
    for (let k = 0; k < size / 2; k++) power[k] = bins[2 * k]! ** 2 + bins[2 * k + 1]! ** 2;
    addBlock(tally, power, null);
  }
  return tally.blocks === 0 ? null : finish(tally, rateHz / size, (2 * rateHz) / length);
}
