/** Sample rate at which every source is made. */
export const RATE_HZ = 48_000;

/** Audio samples from one control value (speed, gate, gain) to the next: 200 values a second. */
export const CONTROL_HOP = 240;

export const CONTROL_HZ = RATE_HZ / CONTROL_HOP;

/** Control values that cover a clip, one past the end included. */
export const controlCount = (sampleCount: number): number =>
  Math.ceil(sampleCount / CONTROL_HOP) + 1;
