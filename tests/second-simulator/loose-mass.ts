/** A part that is free to move in a gap and strikes its stops (Hertz contact, Hunt–Crossley loss). */
export interface LooseMass {
  sampleRateHz: number;
  /** Acceleration of the part relative to its seat, m/s², per sample. */
  push: Float32Array;
  gapM: number;
  /** Contact time at a typical blow, s. */
  contactSeconds: number;
  restitution: number;
  /** Dry friction as an acceleration that has to be overcome, m/s². */
  stickMps2?: number;
}

/** Blow speed the contact is laid out for: falling through the gap under the typical push. */
function typicalBlow(push: Float32Array, gapM: number): number {
  let peak = 0;
  for (let i = 0; i < push.length; i += 7) peak = Math.max(peak, Math.abs(push[i]!));
  return Math.sqrt(2 * Math.max(peak, 1e-3) * gapM) * 0.7;
}

/** Hertz constant (per unit mass) giving the wanted contact time at a blow speed: T = 2.94 δ/v, δ = (5v²/4k)^0.4. */
export function hertzConstant(blowMps: number, contactSeconds: number): number {
  return (1.25 * blowMps * blowMps) / Math.pow((blowMps * contactSeconds) / 2.94, 2.5);
}

/** Contact force on the stops, per unit mass; zero while the part flies. */
export function looseMassForce(o: LooseMass): Float32Array {
  const n = o.push.length;
  const dt = 1 / o.sampleRateHz;
  const blow = typicalBlow(o.push, o.gapM);
  const k = hertzConstant(blow, Math.max(o.contactSeconds, 6 * dt));
  const loss = (1.5 * (1 - o.restitution)) / blow;
  const stick = o.stickMps2 ?? 0;
  const out = new Float32Array(n);
  let u = 0;
  let v = 0;
  for (let i = 0; i < n; i++) {
    let contact = 0;
    if (u < 0) {
      const d = -u;
      contact = Math.max(0, k * d * Math.sqrt(d) * (1 - loss * v));
    } else if (u > o.gapM) {
      const d = u - o.gapM;
      contact = -Math.max(0, k * d * Math.sqrt(d) * (1 + loss * v));
    }
    let a = o.push[i]! + contact;
    if (stick > 0) a = withDryFriction(a, v, stick, dt);
    v += a * dt;
    u += v * dt;
    out[i] = contact;
  }
  return out;
}

function withDryFriction(a: number, v: number, stick: number, dt: number): number {
  if (v > stick * dt) return a - stick;
  if (v < -stick * dt) return a + stick;
  return Math.abs(a) <= stick ? -v / dt : a - Math.sign(a) * stick;
}

/** Half-sine contact pulse of one blow. */
export function addBlow(
  out: Float32Array,
  atSample: number,
  strength: number,
  samples: number,
): void {
  const start = Math.round(atSample);
  const length = Math.max(2, Math.round(samples));
  for (let k = 0; k < length; k++) {
    const i = start + k;
    if (i >= 0 && i < out.length) out[i]! += strength * Math.sin((Math.PI * (k + 0.5)) / length);
  }
}

/** A part dropped on its stop: blows that follow each other ever faster and softer. */
export function addBouncing(
  out: Float32Array,
  o: {
    atSample: number;
    strength: number;
    contactSamples: number;
    flightSamples: number;
    restitution: number;
  },
): void {
  let at = o.atSample;
  let strength = o.strength;
  let flight = o.flightSamples;
  while (Math.abs(strength) > 0.03 * Math.abs(o.strength) && flight > 1) {
    addBlow(out, at, strength, o.contactSamples);
    at += flight;
    strength *= o.restitution;
    flight *= o.restitution;
  }
}
