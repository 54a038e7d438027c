// E[ln x] of a unit exponential variable is minus Euler's constant.
const EULER = 0.5772156649015329;

function meanLogs(logs: Float64Array, widest: number, out: Float64Array): void {
  const n = logs.length;
  const sums = new Float64Array(n + 1);
  for (let k = 0; k < n; k++) sums[k + 1] = sums[k]! + logs[k]!;
  for (let k = 0; k < n; k++) {
    const half = Math.min(widest, Math.max(5, Math.floor(0.35 * k)));
    const low = Math.max(1, k - half);
    const high = Math.min(n, k + half + 1);
    out[k] = high > low ? (sums[high]! - sums[low]!) / (high - low) : logs[k]!;
  }
}

/**
 * Background of a periodogram: geometric mean of the surrounding bins, scaled to the mean of
 * exponentially distributed bins, so that power over level is Exp(1) in smooth noise.
 *
 * Bins far above a first estimate (lines) are cut down, and bins far below (emptied by a notch) filled,
 * before the second one. The window is
 * ±`widest` bins, narrower near zero so that a 1/f rise is followed. Shape as the input; bin 0 is left
 * out of every mean.
 */
export function localLevel(power: Float64Array, widest = 40): Float64Array {
  const n = power.length;
  const logs = new Float64Array(n);
  for (let k = 0; k < n; k++) logs[k] = Math.log(power[k]! + 1e-300);
  const level = new Float64Array(n);
  meanLogs(logs, widest, level);
  // ln of an Exp(1) bin exceeds its mean by 2 with probability 0.016 and falls short of it by 4 with
  // probability 0.01: only lines are cut, and only emptied stretches are filled.
  for (let k = 0; k < n; k++) {
    const off = logs[k]! - level[k]!;
    if (off > 2) logs[k] = level[k]! + 2;
    else if (off < -4) logs[k] = level[k]!;
  }
  meanLogs(logs, widest, level);
  for (let k = 0; k < n; k++) level[k] = Math.exp(level[k]! + EULER);
  return level;
}
