import { rowsToAngle, type TurnClock } from "../signal/angular.js";
import { fftPlan } from "../signal/fft-plan.js";
import { windowOf } from "../signal/window.js";
import { clockTimes, usableShare } from "./course-clock.js";
import { OctaveMean } from "./join-octaves.js";
import { inDeviations, type LineSpectrum } from "./line-spectrum.js";
import type { StraightenInput } from "./straighten-input.js";
import { backgroundOf } from "./whiten.js";

// Rates at which a recording itself is modulated: codec frames of 20 ms and of 1024 samples at 44.1 and
// 48 kHz, and the mains. They stand still, so they matter only while the drum keeps its speed.
const FRAME_RATES_HZ = [50, 44_100 / 1024, 48_000 / 1024];

function silenceFixedRates(z: Float64Array, binHz: number, mainsHz: number | null): void {
  const rates = mainsHz === null ? FRAME_RATES_HZ : [...FRAME_RATES_HZ, mainsHz];
  for (const rate of rates) {
    for (let k = 1; k * rate < z.length * binHz; k++) {
      const low = Math.max(0, Math.floor((k * rate - 0.5) / binHz));
      const high = Math.min(z.length - 1, Math.ceil((k * rate + 0.5) / binHz));
      for (let j = low; j <= high; j++) if (z[j]! > 0) z[j] = 0;
    }
  }
}

/** How modulation is looked at: longer blocks for slower turning. */
export interface TurnView {
  readonly blockSeconds: number;
  /** Transform length, a power of two that holds a block. */
  readonly size: number;
  readonly topHz: number;
  /** Half-width of the background, Hz. */
  readonly aroundHz: number;
}

// In long clips the mean over blocks is so smooth that traces of colour and beats would pass for lines.
const LEAST_SPREAD = 0.2;

/** For spinning drums. */
export const SPIN_VIEW: TurnView = { blockSeconds: 10, size: 4096, topHz: 95, aroundHz: 2 };
/** For tumbling, distributing and turning by hand. */
export const SLOW_VIEW: TurnView = { blockSeconds: 36, size: 16384, topHz: 16, aroundHz: 0.5 };

/** Modulation along a course, which may be asked for with and without the limit on single octaves. */
interface TurnSpectra {
  /** With the limit. */
  turn(): LineSpectrum;
  /** With the full height of lines, to place them. */
  turnPeaks(): LineSpectrum;
}

/** Where the blocks of straightened rows begin that may be looked at, evenly spread, half overlapping. */
function blockStarts(
  rowLength: number,
  blockLength: number,
  isUsable: (start: number) => boolean,
): number[] {
  const blocks = Math.max(1, Math.round((rowLength - blockLength) / (blockLength / 2)) + 1);
  return Array.from({ length: blocks }, (_, b) =>
    blocks === 1 ? 0 : Math.floor((b * (rowLength - blockLength)) / (blocks - 1)),
  ).filter(isUsable);
}

export function turnSpectra(
  input: Pick<StraightenInput, "envelopes" | "usable" | "mainsHz">,
  clock: TurnClock,
  steady: boolean,
  view: TurnView,
): TurnSpectra {
  const { rows, rateHz } = input.envelopes;
  const { size } = view;
  const binHz = rateHz / size;
  const count = Math.floor(view.topHz / binHz);
  const straightRows = rowsToAngle(rows, rateHz, clock, rateHz);
  const rowLength = straightRows[0]?.length ?? 0;
  const part = Math.min(Math.round(view.blockSeconds * rateHz), rowLength);
  const starts = blockStarts(rowLength, part, (start) => {
    const [from, to] = clockTimes(clock, [start / rateHz, (start + part) / rateHz]);
    return usableShare(input.usable, from!, to!) >= 0.5;
  });
  const window = windowOf("hann", part);
  const octaves = new OctaveMean(count);
  const plan = fftPlan(size);
  const block = new Float64Array(size);
  const bins = new Float64Array(2 * size);
  for (const straight of straightRows) {
    const power = new Float64Array(count);
    for (const start of starts) {
      for (let j = 0; j < part; j++) block[j] = straight[start + j]! * window[j]!;
      plan.forwardReal(block, bins);
      for (let k = 0; k < count; k++) power[k]! += bins[2 * k]! ** 2 + bins[2 * k + 1]! ** 2;
    }
    for (let k = 0; k < count; k++) power[k]! += 1e-12;
    const background = backgroundOf(power, binHz, view.aroundHz);
    octaves.nextOctave();
    for (let k = 0; k < count; k++) {
      octaves.put(k, power[k]! / background[k]!);
    }
  }
  const spectrumOf = (logs: Float64Array): LineSpectrum => {
    const spectrum = inDeviations(logs, Math.round(view.aroundHz / binHz), binHz, LEAST_SPREAD);
    if (steady) silenceFixedRates(spectrum.z, binHz, input.mainsHz);
    return spectrum;
  };
  return {
    turn: () => spectrumOf(octaves.logMeans()),
    turnPeaks: () => spectrumOf(octaves.logPlainMeans()),
  };
}
