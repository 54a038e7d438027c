import { median, quantile } from "../foundation/statistics.js";
import { heightAt } from "./line-odds.js";
import type { JudgedCourse } from "./judge-course.js";
import type { LineSpectrum } from "./line-spectrum.js";

/** How well a reading is heard, apart from how it compares with other readings. */
export interface Hearing {
  /** Heights of the modulation at 1, 2 and 3 per turn, deviations. */
  readonly turnHeights: readonly number[];
  /** Share of frames in which the tones stand out, 0 to 1; 0 when no tone is heard. */
  readonly toneShare: number;
  /** Number of tones of the family that stand out over the whole clip. */
  readonly toneCount: number;
  /** Share of frames in which the strongest tones are there, 0 to 1: low for notes that come and go. */
  readonly toneHold: number;
  /** The modulation also has lines between the multiples: its true rate is a fraction of this one. */
  readonly finerComb: boolean;
}

/** Highest point within ±share of a frequency, deviations. */
export function heightNear(spectrum: LineSpectrum, hz: number, share: number): number {
  const low = Math.max(0, Math.floor((hz * (1 - share)) / spectrum.binHz));
  const high = Math.min(spectrum.z.length - 1, Math.ceil((hz * (1 + share)) / spectrum.binHz));
  let top = -Infinity;
  for (let k = low; k <= high; k++) top = Math.max(top, spectrum.z[k]!);
  return top;
}

const SHOWS = 3;

function hasFinerComb(turn: LineSpectrum, drumHz: number): boolean {
  const floor = Math.min(...[1, 2].map((h) => heightNear(turn, h * drumHz, 0.005)));
  for (let parts = 2; parts <= 8; parts++) {
    const spacing = drumHz / parts;
    if (spacing < 0.45) break;
    let lines = 0;
    let shown = 0;
    for (let j = 1; j <= 3 * parts; j++) {
      if (j % parts === 0 || j * spacing < 0.9) continue;
      lines++;
      if (heightAt(turn, j * spacing) > Math.max(SHOWS, 0.35 * floor)) shown++;
    }
    if (lines >= 3 && shown >= 0.7 * lines) return true;
  }
  return false;
}

const nearBin = (frame: Float64Array, k: number): number =>
  Math.max(frame[k - 1] ?? 0, frame[k] ?? 0, frame[k + 1] ?? 0);

// Of each of the three strongest lines: share of frames in which it stands at half its usual height.
function holdOf(frames: readonly Float64Array[], lines: readonly number[]): number {
  const strongest = lines
    .map((k) => {
      const heights = frames.map((frame) => nearBin(frame, k));
      const usual = quantile(heights, 0.9);
      return { usual, share: heights.filter((h) => h > 0.5 * usual).length / heights.length };
    })
    .sort((a, b) => b.usual - a.usual)
    .slice(0, 3);
  return strongest.length === 0 ? 0 : median(strongest.map((line) => line.share));
}

/** Measures how well a reading (reference drum speed and tone fundamental) is heard. */
export function hearingOf(judged: JudgedCourse, drumHz: number, toneHz: number | null): Hearing {
  const { turn, tone, toneFrames } = judged.spectra;
  const lines: number[] = [];
  for (let k = 1; toneHz !== null && k <= 12; k++) {
    if (heightAt(tone, k * toneHz) > SHOWS + 1) lines.push(Math.round((k * toneHz) / tone.binHz));
  }
  let standing = 0;
  for (const frame of toneFrames) {
    let sum = 0;
    for (const k of lines) sum += nearBin(frame, k);
    if (lines.length > 0 && sum / lines.length > 0.9) standing++;
  }
  return {
    turnHeights: [1, 2, 3].map((h) => heightNear(turn, h * drumHz, 0.004)),
    toneShare: standing / Math.max(1, toneFrames.length),
    toneCount: lines.length,
    toneHold: holdOf(toneFrames, lines),
    finerComb: hasFinerComb(turn, drumHz),
  };
}

/** A second multiple this high stands for itself, and shows what its neighbours lack. */
const CLEAR = 5;
const HARDLY = 0.2;

/** Only even multiples are there: what turns is twice as fast. */
export function onlyEven({ turnHeights }: Hearing): boolean {
  const [one, two, three] = turnHeights as [number, number, number];
  return two >= CLEAR && Math.max(one, three) < HARDLY * two;
}

/** Distance of the heights of the modulation from what noise gives, deviations. */
export const turnStrength = ({ turnHeights }: Hearing): number =>
  Math.hypot(...turnHeights.map((z) => Math.max(0, z - 1)));
