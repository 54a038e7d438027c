import { meanFrame } from "./whiten.js";

/** How far each frame's lines lie from those of all frames together, as a share of frequency. */
const REACH = 12;
const SHARE_STEP = 0.001;
const STATES = 2 * REACH + 1;
const MOVE_COST = 0.6;

interface CommonLine {
  readonly bin: number;
  readonly weight: number;
}

// Lines above their surroundings in the mean over time; their flanks count as well.
function commonLines(frames: readonly Float64Array[], fromBin: number): CommonLine[] {
  const mean = meanFrame(frames);
  const lines: CommonLine[] = [];
  for (let k = fromBin; k < mean.length - 1; k++) {
    if (mean[k]! > 0.5) lines.push({ bin: k, weight: Math.min(2, mean[k]! - 0.3) });
  }
  return lines;
}

function frameScores(
  frame: Float64Array,
  lines: readonly CommonLine[],
  norm: number,
): Float64Array {
  const scores = new Float64Array(STATES);
  for (let s = 0; s < STATES; s++) {
    const factor = 1 + (s - REACH) * SHARE_STEP;
    let sum = 0;
    for (const line of lines) {
      const position = line.bin * factor;
      const k = Math.floor(position);
      const a = frame[k]!;
      sum += line.weight * (a + (position - k) * ((frame[k + 1] ?? a) - a));
    }
    scores[s] = sum * norm - 0.5 * ((s - REACH) / 5) ** 2;
  }
  return scores;
}

/**
 * Fits each frame's pitch to the common lines of all frames, whatever shaft they belong to, and joins
 * the fits by the smoothest path (Viterbi). Returns ln corrections per frame, or null when there are too
 * few lines to hold on to.
 */
export function alignTones(frames: readonly Float64Array[], binHz: number): Float64Array | null {
  const lines = commonLines(frames, Math.round(70 / binHz)).filter(
    (line) => line.bin * (1 + REACH * SHARE_STEP) < (frames[0]?.length ?? 0) - 2,
  );
  if (lines.length < 3 || frames.length < 3) return null;
  const norm = 1.2 / Math.sqrt(lines.reduce((sum, line) => sum + line.weight ** 2, 0));
  const from = frames.map(() => new Int32Array(STATES));
  let score = frameScores(frames[0]!, lines, norm);
  for (let t = 1; t < frames.length; t++) {
    const own = frameScores(frames[t]!, lines, norm);
    const next = new Float64Array(STATES);
    for (let s = 0; s < STATES; s++) {
      let best = -Infinity;
      for (let d = -4; d <= 4; d++) {
        const value = (score[s + d] ?? -Infinity) - MOVE_COST * Math.abs(d);
        if (value > best) {
          best = value;
          from[t]![s] = s + d;
        }
      }
      next[s] = best + own[s]!;
    }
    score = next;
  }
  let at = score.indexOf(Math.max(...score));
  const out = new Float64Array(frames.length);
  for (let t = frames.length - 1; t >= 0; t--) {
    out[t] = (at - REACH) * SHARE_STEP;
    at = from[t]![at]!;
  }
  return out;
}
