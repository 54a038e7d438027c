import type { Interval } from "../recording.js";

/**
 * The loudest run of whole seconds, by the sum of their energies.
 *
 * @param energies one value for each second from 0 on, shape [n]
 * @param seconds length of the run; the whole recording where it is no longer than that
 */
export function loudestStretch(energies: readonly number[], seconds: number): Interval {
  const length = Math.min(Math.floor(seconds), energies.length);
  let sum = 0;
  for (let i = 0; i < length; i++) sum += energies[i]!;
  let best = sum;
  let start = 0;
  for (let i = length; i < energies.length; i++) {
    sum += energies[i]! - energies[i - length]!;
    // A relative margin keeps rounding from moving the stretch in a steady recording.
    if (sum > best * (1 + 1e-9)) {
      best = sum;
      start = i - length + 1;
    }
  }
  return { startSeconds: start, endSeconds: start + length };
}

/** Minutes and seconds, such as "12:05". */
export function clockTime(seconds: number): string {
  const whole = Math.round(seconds);
  return `${Math.floor(whole / 60)}:${String(whole % 60).padStart(2, "0")}`;
}
