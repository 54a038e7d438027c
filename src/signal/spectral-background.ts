// One bin of a spectrum of noise may stand this far (as ln of power) over its neighbours' mean before it
// is taken for a line: 6 dB.
const LINE_LOG_RISE = Math.log(4);

function boxMeans(values: Float64Array, keep: Uint8Array, halfWidth: number, out: Float64Array) {
  const n = values.length;
  let sum = 0;
  let count = 0;
  const add = (i: number, sign: number): void => {
    if (keep[i]! === 0) return;
    sum += sign * values[i]!;
    count += sign;
  };
  for (let i = 0; i < Math.min(halfWidth, n); i++) add(i, 1);
  let last = values[0]!;
  for (let i = 0; i < n; i++) {
    if (i + halfWidth < n) add(i + halfWidth, 1);
    if (i - halfWidth - 1 >= 0) add(i - halfWidth - 1, -1);
    if (count > 0) last = sum / count;
    out[i] = last;
  }
}

/**
 * Smooth background of a power spectrum as ln of power: the mean of ln power within ±halfWidth bins, taken
 * twice, the second time without the bins that stand 6 dB over the first.
 *
 * Shape as the input, unit ln(unit of power). Does the work of a running median in one pass over the
 * bins. For noise the mean of ln power lies below ln of the mean power (by 0.58 for one periodogram, by
 * about 1/(2m) for m averaged ones).
 *
 * @param logPower ln of the power spectrum, no infinities
 */
export function logBackground(logPower: Float64Array, halfWidth: number): Float64Array {
  const background = new Float64Array(logPower.length);
  const keep = new Uint8Array(logPower.length).fill(1);
  boxMeans(logPower, keep, halfWidth, background);
  for (let k = 0; k < keep.length; k++) {
    if (logPower[k]! - background[k]! > LINE_LOG_RISE) keep[k] = 0;
  }
  boxMeans(logPower, keep, halfWidth, background);
  return background;
}

/** ln of each value, with a floor so that empty bins stay finite. Shape as the input. */
export function logOf(power: Float64Array): Float64Array {
  const out = new Float64Array(power.length);
  for (let k = 0; k < power.length; k++) out[k] = Math.log(power[k]! + 1e-20);
  return out;
}
