import { RATE_HZ } from "./rate.js";

/** Adds a half-sine force of the given length at a sample position. */
export function addContact(
  out: Float64Array,
  position: number,
  amplitude: number,
  contactSeconds: number,
): void {
  const length = Math.max(1, contactSeconds * RATE_HZ);
  const first = Math.max(0, Math.ceil(position));
  const end = Math.min(out.length, position + length);
  for (let i = first; i < end; i++) {
    out[i]! += amplitude * Math.sin((Math.PI * (i - position)) / length);
  }
}

/** How a struck part rings: frequency and the time in which its amplitude falls to 1/e. */
export interface Ring {
  readonly hz: number;
  readonly decaySeconds: number;
  readonly gain: number;
}

/** Adds amplitude * gain * e^(-t/decay) sin(2π hz t) from a position between samples on. */
export function addRing(out: Float64Array, position: number, amplitude: number, ring: Ring): void {
  const first = Math.ceil(position);
  if (first < 0 || first >= out.length) return;
  const decay = Math.exp(-1 / (ring.decaySeconds * RATE_HZ));
  const w = (2 * Math.PI * ring.hz) / RATE_HZ;
  const end = Math.min(out.length, first + Math.ceil(6 * ring.decaySeconds * RATE_HZ));
  const lead = first - position;
  // y[i] = 2 r cos w y[i-1] - r² y[i-2] continues the damped sine without a sine per sample.
  const scaled = amplitude * ring.gain * decay ** lead;
  let before = (scaled * Math.sin(w * (lead - 1))) / decay;
  let now = scaled * Math.sin(w * lead);
  const c = 2 * decay * Math.cos(w);
  const d = decay * decay;
  for (let i = first; i < end; i++) {
    out[i]! += now;
    const next = c * now - d * before;
    before = now;
    now = next;
  }
}

/** Strikes several rings at once. */
export function addRings(
  out: Float64Array,
  position: number,
  amplitude: number,
  rings: readonly Ring[],
): void {
  for (const ring of rings) addRing(out, position, amplitude, ring);
}
