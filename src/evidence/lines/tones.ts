import { findTones, toneToNoiseDb } from "../../signal/tonality.js";
import type { Spectrum } from "../../signal/spectrum.js";
import type { ListeningContext } from "../context.js";
import type { ToneFinding } from "../evidence.js";
import type { AxisSpectrum } from "./axis-spectrum.js";
import type { ClipViews } from "./line-views.js";
import { scalingOf, type ScalingViews } from "./scaling.js";

const LOW_HZ = 60;
const MOST_TONES = 16;
/** Two findings closer than this share of their frequency are the same tone. */
const SAME_TONE = 0.004;
/** Height over the background from which a peak of the averaged spectrum is listed, dB. */
const RISE_DB = 7;
/** Tone-to-noise ratio under which a tone is not strong, dB. */
const LEAST_PROMINENCE_DB = 0;

interface Listed {
  readonly hz: number;
  readonly prominenceDb: number;
}

/** Tones of a spectrum whose bins are `hzPerPlace` times as far apart as the axis says. */
function tonesOf(spectrum: AxisSpectrum, hzPerPlace: number, topHz: number): Listed[] {
  const scaled: Spectrum = { values: spectrum.power, binHz: spectrum.bin * hzPerPlace };
  const { tones, noise } = findTones(scaled, { fromHz: LOW_HZ, toHz: topHz, riseDb: RISE_DB });
  return tones
    .map((tone) => ({ hz: tone.hz, prominenceDb: toneToNoiseDb(tone, noise) }))
    .filter(({ prominenceDb }) => prominenceDb >= LEAST_PROMINENCE_DB);
}

/** The stronger of two findings of one tone stays; strongest first. */
function strongest(listed: readonly Listed[]): Listed[] {
  const kept: Listed[] = [];
  for (const tone of [...listed].sort((a, b) => b.prominenceDb - a.prominenceDb)) {
    if (kept.length === MOST_TONES) break;
    if (kept.every(({ hz }) => Math.abs(hz - tone.hz) > SAME_TONE * hz + 1)) kept.push(tone);
  }
  return kept;
}

/**
 * The clip's strongest tones, up to 16, most prominent first: tone-to-noise ratio in the critical band
 * (ECMA-418-1), read from the time spectrum, or from the order spectrum for tones that follow the drum.
 */
export function listTones(context: ListeningContext, views: ClipViews): ToneFinding[] {
  const hertz = views.hertzSound()?.spectrum;
  if (hertz === undefined) return [];
  const orders = views.drumSound()?.spectrum ?? null;
  const { shafts } = views;
  const topHz = Math.min(context.recording.bandHz[1], 0.47 * context.soundRateHz);
  const scaling: ScalingViews = { hertz, orders, shafts, lineHz: context.speed.lineHz };
  const fromOrders =
    orders === null || shafts === null ? [] : tonesOf(orders, shafts.typicalHz, topHz);
  const found = strongest([...tonesOf(hertz, 1, topHz), ...fromOrders]);
  return found.map(({ hz, prominenceDb }) => {
    const how = scalingOf(hz, scaling);
    const tied = how === "speed-locked" || how === "undetermined";
    return {
      hz,
      drumOrder: shafts?.drumKnown === true && tied ? hz / shafts.typicalHz : null,
      prominenceDb,
      scaling: how,
    };
  });
}
