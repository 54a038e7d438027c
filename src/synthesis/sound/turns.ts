import { CONTROL_HOP, CONTROL_HZ } from "./rate.js";

/**
 * Turns of a shaft at every audio sample from its speed at every control step.
 * Speed is linear between steps, so turns are quadratic there and their derivative is the speed.
 * Shape [sampleCount]; speed in turns per second, negative when it turns back.
 */
export function integrateSpeed(hz: Float64Array, sampleCount: number): Float64Array {
  const turns = new Float64Array(sampleCount);
  const last = hz.length - 1;
  let base = 0;
  for (let k = 0; k * CONTROL_HOP < sampleCount; k++) {
    const from = hz[Math.min(k, last)]!;
    const to = hz[Math.min(k + 1, last)]!;
    const start = k * CONTROL_HOP;
    const end = Math.min(sampleCount, start + CONTROL_HOP);
    for (let i = start; i < end; i++) {
      const t = (i - start) / CONTROL_HOP;
      turns[i] = base + (t * (from + 0.5 * t * (to - from))) / CONTROL_HZ;
    }
    base += (0.5 * (from + to)) / CONTROL_HZ;
  }
  return turns;
}
