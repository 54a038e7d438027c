import { cellHz, type LogGrid } from "./log-grid.js";
import type { ToneFrames } from "./tone-frames.js";
import type { TurnFrames } from "./turn-frames.js";

/** Score of each cell of a grid: values[(frame * chirpCount + chirp) * grid.count + cell]. */
export interface Emissions {
  readonly grid: LogGrid;
  readonly frameCount: number;
  readonly chirpCount: number;
  readonly values: Float32Array;
}

/** Places of a template in a spectrum: cell i reads bins[starts[i]] ... bins[starts[i + 1] - 1]. */
interface Template {
  readonly starts: Int32Array;
  readonly bins: Int32Array;
  readonly weights: Float32Array;
}

function templateOf(
  grid: LogGrid,
  binHz: number,
  linesOf: (hz: number) => readonly (readonly [hz: number, weight: number])[],
): Template {
  const starts = new Int32Array(grid.count + 1);
  const bins: number[] = [];
  const weights: number[] = [];
  for (let i = 0; i < grid.count; i++) {
    const lines = linesOf(cellHz(grid, i));
    const norm = Math.sqrt(lines.reduce((sum, [, w]) => sum + w * w, 0.3));
    for (const [hz, weight] of lines) {
      bins.push(Math.round(hz / binHz));
      weights.push(weight / norm);
    }
    starts[i + 1] = bins.length;
  }
  return { starts, bins: Int32Array.from(bins), weights: Float32Array.from(weights) };
}

function applyTemplate(
  template: Template,
  spectra: readonly (readonly Float64Array[])[],
  grid: LogGrid,
): Emissions {
  const chirpCount = spectra.length;
  const frameCount = spectra[0]!.length;
  const values = new Float32Array(frameCount * chirpCount * grid.count);
  const { starts, bins, weights } = template;
  for (let c = 0; c < chirpCount; c++) {
    for (let t = 0; t < frameCount; t++) {
      const spectrum = spectra[c]![t]!;
      const base = (t * chirpCount + c) * grid.count;
      for (let i = 0; i < grid.count; i++) {
        let sum = 0;
        for (let j = starts[i]!; j < starts[i + 1]!; j++) {
          sum += weights[j]! * spectrum[bins[j]!]!;
        }
        values[base + i] = sum;
      }
    }
  }
  return { grid, frameCount, chirpCount, values };
}

// Coarse cells are wider than a line's peak at high frequencies: there the best of neighbours counts.
function pooled(frames: ToneFrames): Float64Array[][] {
  const pool = (frame: Float64Array): Float64Array => {
    const out = Float64Array.from(frame);
    for (const [fromHz, toHz, half] of [
      [550, 1100, 1],
      [1100, 3600, 2],
    ] as const) {
      const low = Math.round(fromHz / frames.binHz);
      const high = Math.min(frame.length - half, Math.round(toHz / frames.binHz));
      let mean = 0;
      for (let k = low; k < high; k++) {
        let top = frame[k]!;
        for (let j = 1; j <= half; j++) top = Math.max(top, frame[k - j]!, frame[k + j]!);
        out[k] = top;
        mean += top;
      }
      mean /= Math.max(1, high - low);
      for (let k = low; k < high; k++) out[k]! -= mean;
    }
    return out;
  };
  return frames.excess.map((list) => list.map(pool));
}

/** Harmonic family against the half orders between its lines. */
export function toneEmissions(
  frames: ToneFrames,
  grid: LogGrid,
  bandHz: readonly [number, number],
): Emissions {
  const low = Math.max(45, bandHz[0]);
  const high = Math.min(2600, bandHz[1], (frames.excess[0]![0]!.length - 2) * frames.binHz);
  const template = templateOf(grid, frames.binHz, (hz) => {
    const lines: [number, number][] = [];
    for (let k = 1; k <= 14 && lines.length < 12; k++) {
      const weight = 1 / Math.sqrt(1 + (k - 1) / 2);
      if (k * hz >= low && k * hz <= high) lines.push([k * hz, weight]);
      const between = (k + 0.5) * hz;
      if (hz > 30 && between >= low && between <= high) lines.push([between, -0.5 * weight]);
    }
    return lines;
  });
  return applyTemplate(template, pooled(frames), grid);
}

// One, two and three per turn speak for a drum, half orders between them against it.
const TURN_LINES: readonly (readonly [order: number, weight: number])[] = [
  [1, 1],
  [2, 0.6],
  [3, 0.4],
  [0.5, -0.3],
  [1.5, -0.3],
];

/** Modulation at one, two and three per drum turn, as far as the spectra reach. */
export function turnEmissions(frames: TurnFrames, grid: LogGrid): Emissions {
  const high = (frames.excess[0]![0]!.length - 1) * frames.binHz;
  const template = templateOf(grid, frames.binHz, (hz) =>
    TURN_LINES.map(([order, weight]) => [order * hz, weight] as const).filter(([at]) => at <= high),
  );
  return applyTemplate(template, frames.excess, grid);
}
