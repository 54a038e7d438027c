import { clamp, median } from "../../foundation/statistics.js";
import { logBackground, logOf } from "../../signal/spectral-background.js";
import type { ListeningContext } from "../context.js";
import type { Measurement } from "../evidence.js";
import { measured, missing } from "../measurement.js";
import { halved, withoutSlowGain, type Series } from "./level-series.js";
import { modulationBlocks, modulationIn, type ModulationBlock } from "./modulation-blocks.js";
import { speedWithin } from "./speed-within.js";

const ROUGH_HZ = [20, 150] as const;
const FLUCTUATION_HZ = [2, 20] as const;
const SLOW_SECONDS = 1;
/** Stretch short enough that a few clicks a second leave most stretches alone. */
const BRIEF_SECONDS = 0.15;
/** Under this squared modulation index there is nothing whose rhythm could be told. */
const LEAST_MODULATION = 0.01;

/** Bins of a block that lie on a multiple of the drum's, the motor's or the mains rate. */
function periodicBins(context: ListeningContext, block: ModulationBlock): Uint8Array {
  const { density, binHz, startSeconds, endSeconds } = block;
  const { motorToDrum, lineHz } = context.speed;
  const taken = new Uint8Array(density.length);
  const take = (hz: number, spread: number): void => {
    const half = Math.max(1.5 * binHz, spread * hz);
    for (let k = Math.ceil((hz - half) / binHz); k <= (hz + half) / binHz; k++) taken[k] = 1;
  };
  const drum = speedWithin(context, startSeconds, endSeconds);
  if (drum !== null && drum.hz > 6 * binHz) {
    // A comb finer than what the speed's spread leaves apart would take everything.
    for (let k = 1; k * drum.hz < ROUGH_HZ[1] && k * drum.spread < 0.15; k++) {
      take(k * drum.hz, drum.spread);
    }
    const motorHz = motorToDrum === null ? Infinity : motorToDrum.value * drum.hz;
    for (let k = 1; k * motorHz < ROUGH_HZ[1]; k++) take(k * motorHz, drum.spread + 0.004);
  }
  if (lineHz !== null) for (let hz = lineHz; hz < ROUGH_HZ[1]; hz += lineHz) take(hz, 0.002);
  return taken;
}

/** Share of the modulation of 2-150 Hz that stands in lines at multiples of drum, motor and mains. */
function periodicShare(context: ListeningContext, blocks: readonly ModulationBlock[]): Measurement {
  let periodic = 0;
  let total = 0;
  for (const block of blocks) {
    const { density, binHz } = block;
    total += modulationIn(block, FLUCTUATION_HZ[0], ROUGH_HZ[1]);
    const floor = logBackground(logOf(density.map(Math.abs)), Math.round(3 / binHz));
    const taken = periodicBins(context, block);
    for (let k = Math.ceil(FLUCTUATION_HZ[0] / binHz); k <= ROUGH_HZ[1] / binHz; k++) {
      if (taken[k]) periodic += Math.max(0, density[k]! - 2 * Math.exp(floor[k]!)) * binHz;
    }
  }
  if (total / blocks.length < LEAST_MODULATION) return missing("no-events");
  return measured(clamp(periodic / total, 0, 1), context.speed.motorToDrum ? 0.9 : 0.7);
}

type RoughnessId = "roughness" | "roughness-periodic" | "fluctuation";

/** Squared modulation index at 20-150 Hz of a stretch, without the lines of drum, motor and mains. */
function irregular(context: ListeningContext, block: ModulationBlock): number {
  const taken = periodicBins(context, block);
  const density = block.density.map((value, k) => (taken[k] ? 0 : value));
  const free = density.length - taken.reduce((sum, one) => sum + one, 0);
  // What lies under the lines is taken to be as between them.
  return (modulationIn({ ...block, density }, ...ROUGH_HZ) * density.length) / Math.max(1, free);
}

/**
 * Squared modulation index that is rough: fast, kept up and without rhythm. Blows of each turn of a fast
 * drum lie on the drum's lines; a few clicks a second leave most brief stretches alone; rough wear does
 * neither, so the lower of the two views decides.
 */
function roughSquare(
  context: ListeningContext,
  flat: readonly Series[],
  long: readonly ModulationBlock[],
): number {
  const brief = modulationBlocks(context, flat, BRIEF_SECONDS);
  return Math.min(
    median(long.map((block) => irregular(context, block))),
    median(brief.map((block) => modulationIn(block, ...ROUGH_HZ))),
  );
}

/**
 * Modulation of the level that the octaves from 1 to 7.5 kHz share.
 *
 * m = sqrt(median over stretches of ∫ S(f) df), S the cross density of two octaves' squared envelopes
 * over their own slow mean (1 s): 20-150 Hz is `roughness` (the lower of 1 s stretches without the lines
 * of drum, motor and mains, and of 0.13 s stretches), 2-20 Hz in stretches of 4 s (2 s in clips under
 * 12 s) `fluctuation`. Steady noise, steady tones and the noise a codec makes octave by octave give 0.
 * `roughness-periodic` is the share of both that lies on drum, motor or mains rates.
 *
 * @param levels of at least two octaves, as `contactLevels` gives them
 */
export function observeRoughness(
  context: ListeningContext,
  levels: readonly Series[],
): Record<RoughnessId, Measurement> {
  if (levels.length < 2) {
    const gone = missing("band");
    return { roughness: gone, "roughness-periodic": gone, fluctuation: gone };
  }
  const flat = levels.map((level) => withoutSlowGain(halved(level), SLOW_SECONDS));
  const second = modulationBlocks(context, flat, 1);
  const wide = modulationBlocks(context, flat, context.recording.durationSeconds < 12 ? 2 : 4);
  const { gainPumping, noiseSuppressed, voiceCodec } = context.recording.quality;
  const trust = (voiceCodec ? 0.5 : 1) * (noiseSuppressed ? 0.5 : 1);
  const index = (
    blocks: readonly ModulationBlock[],
    square: () => number,
    quality: number,
  ): Measurement =>
    blocks.length < 2 ? missing("short") : measured(Math.sqrt(Math.max(0, square())), quality);
  return {
    roughness: index(second, () => roughSquare(context, flat, second), trust),
    fluctuation: index(
      wide,
      () => median(wide.map((block) => modulationIn(block, ...FLUCTUATION_HZ))),
      gainPumping ? 0.6 * trust : trust,
    ),
    "roughness-periodic":
      context.speed.drumRpm === null
        ? missing("speed")
        : wide.length < 2
          ? missing("short")
          : periodicShare(context, wide),
  };
}
