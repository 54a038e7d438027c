/** Root mean square; 0 for an empty signal. */
export function rms(samples: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < samples.length; i++) sum += samples[i]! * samples[i]!;
  return samples.length === 0 ? 0 : Math.sqrt(sum / samples.length);
}

/** Multiplies in place by one factor; gives the same array back. */
export function scale(samples: Float64Array, factor: number): Float64Array {
  for (let i = 0; i < samples.length; i++) samples[i]! *= factor;
  return samples;
}

/** Brings the RMS to `value` in place; silence stays silence. */
export function setRms(samples: Float64Array, value: number): Float64Array {
  const now = rms(samples);
  return now > 0 ? scale(samples, value / now) : samples;
}

/** Adds `gain` times `source` to `target`, over the shorter of the two. */
export function mixInto(target: Float64Array, source: Float64Array, gain = 1): Float64Array {
  const n = Math.min(target.length, source.length);
  for (let i = 0; i < n; i++) target[i]! += gain * source[i]!;
  return target;
}

/** Largest magnitude; 0 for an empty signal. */
export function peak(samples: Float64Array): number {
  let top = 0;
  for (let i = 0; i < samples.length; i++) top = Math.max(top, Math.abs(samples[i]!));
  return top;
}
