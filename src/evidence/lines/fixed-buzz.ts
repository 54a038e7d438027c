import { median, quantile } from "../../foundation/statistics.js";
import { spectrogram } from "../../signal/spectrum.js";
import type { ListeningContext } from "../context.js";
import type { Measurement } from "../evidence.js";
import { measured, missing } from "../measurement.js";
import { speedSteps, usableSteps } from "./speed-levels.js";

const FRAME = 4096;
const HOP = 4096;
const LOW_HZ = 80;
const HIGH_HZ = 3000;
/** Bands per octave: a panel of quality 10 fills about one. */
const PER_OCTAVE = 6;
/** Speeds are sorted into steps of this share. */
const SPEED_STEP = 1.05;
const LEAST_SPEED_RATIO = 1.25;
const FEWEST_FRAMES = 3;
const FEWEST_STEPS = 5;
/** A swell that fills more speed steps than this is no narrow window (±10 %). */
const WIDEST_SWELL = 4;
/** Bands to each side in which a line that sweeps through would show as well. */
const RIDGE_BANDS = [-4, -3, -2, 2, 3, 4] as const;

interface SpeedMap {
  /** Shape [bands][speed steps]: dB against the frame's median band; NaN where too few frames. */
  readonly levels: readonly Float64Array[];
  readonly bandHz: readonly number[];
  readonly speedHz: readonly number[];
}

function frameLevels(power: Float64Array, edges: readonly number[]): Float64Array {
  const levels = new Float64Array(edges.length - 1);
  for (let b = 0; b < levels.length; b++) {
    let sum = 0;
    const low = edges[b]!;
    const high = Math.max(low + 1, edges[b + 1]!);
    for (let k = low; k < high; k++) sum += power[k]!;
    levels[b] = 10 * Math.log10(sum / (high - low) + 1e-30);
  }
  const middle = median(levels);
  return levels.map((level) => level - middle);
}

function speedMap(context: ListeningContext): SpeedMap | null {
  const { sound, soundRateHz } = context;
  const frameCount = Math.max(0, Math.floor((sound.length - FRAME) / HOP) + 1);
  const step = HOP / soundRateHz;
  const speed = speedSteps(context, step);
  const usable = usableSteps(context, step, speed.length);
  const used = Array.from({ length: frameCount }, (_, i) => i).filter(
    (i) => speed[i]! > 0.4 && usable[i]! > 0.9,
  );
  if (used.length < FEWEST_FRAMES * FEWEST_STEPS) return null;
  const speeds = used.map((i) => speed[i]!);
  const [low, high] = [quantile(speeds, 0.02), quantile(speeds, 0.98)];
  if (high / low < LEAST_SPEED_RATIO) return null;
  const { frames, binHz } = spectrogram(sound, soundRateHz, { length: FRAME, hop: HOP });
  const count = Math.round(PER_OCTAVE * Math.log2(HIGH_HZ / LOW_HZ));
  const bandHz = Array.from({ length: count }, (_, b) => LOW_HZ * 2 ** ((b + 0.5) / PER_OCTAVE));
  const edges = Array.from({ length: count + 1 }, (_, b) =>
    Math.round((LOW_HZ * 2 ** (b / PER_OCTAVE)) / binHz),
  );
  const steps = Math.floor(Math.log(high / low) / Math.log(SPEED_STEP)) + 1;
  const cells = Array.from({ length: count }, () =>
    Array.from({ length: steps }, (): number[] => []),
  );
  for (const i of used) {
    const s = Math.round(Math.log(speed[i]! / low) / Math.log(SPEED_STEP));
    if (s < 0 || s >= steps) continue;
    frameLevels(frames[i]!, edges).forEach((level, b) => cells[b]![s]!.push(level));
  }
  const levels = cells.map((row) =>
    Float64Array.from(row, (cell) => (cell.length < FEWEST_FRAMES ? NaN : median(cell))),
  );
  const speedHz = Array.from({ length: steps }, (_, s) => low * SPEED_STEP ** s);
  return { levels, bandHz, speedHz };
}

interface Swell {
  readonly db: number;
  readonly band: number;
  readonly step: number;
}

/** Rise of a band at one speed over its level at the speeds further off. */
function riseAt(row: Float64Array, step: number): number {
  const rest = Array.from(row).filter(
    (level, s) => Math.abs(s - step) > WIDEST_SWELL / 2 && !Number.isNaN(level),
  );
  return rest.length < FEWEST_STEPS - 2 ? NaN : row[step]! - quantile(rest, 0.75);
}

/** A line that follows the drum swells in one band after the other: how high it stands next door. */
function ridgeBeside(map: SpeedMap, { band, step }: Swell): number {
  const perBand = Math.log(2) / PER_OCTAVE / Math.log(SPEED_STEP);
  let best = 0;
  for (const away of RIDGE_BANDS) {
    const row = map.levels[band + away];
    const at = step + Math.round(away * perBand);
    if (row === undefined || at < 0 || at >= row.length) continue;
    const rise = riseAt(row, at);
    if (rise > best) best = rise;
  }
  return best;
}

/**
 * The largest swell of a band of fixed frequency in a narrow range of drum speeds, dB over the same band
 * at other speeds, less what a line sweeping through neighbouring bands shows there. Levels are against
 * the frame's own median band, so the phone's gain drops out.
 */
export function fixedBuzz(context: ListeningContext): Measurement {
  if (context.drumClock === null) return missing("speed");
  const map = speedMap(context);
  if (map === null) return missing("speed");
  let best: Swell = { db: 0, band: 0, step: 0 };
  map.levels.forEach((row, band) => {
    for (let step = 0; step < row.length; step++) {
      const db = riseAt(row, step);
      if (db > best.db) {
        const swell = { db, band, step };
        const own = db - ridgeBeside(map, swell);
        if (own > best.db) best = { ...swell, db: own };
      }
    }
  });
  const steps = map.levels[0]!.filter((level) => !Number.isNaN(level)).length;
  if (steps < FEWEST_STEPS) return missing("speed");
  return measured(best.db, Math.min(1, steps / 10), {
    hz: map.bandHz[best.band]!,
    rpm: 60 * map.speedHz[best.step]!,
  });
}
