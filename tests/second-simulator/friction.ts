/** A part rubbed by a moving surface whose friction falls with speed: it sticks, slips and sings. */
export interface Rubbing {
  sampleRateHz: number;
  /** Speed of the surface, m/s, per sample. */
  slideMps: Float32Array;
  /** How hard it is pressed, 0..1 per sample; 0 where nothing touches. */
  touch: Float32Array;
  /** How much falling friction feeds in at full press and slow sliding, against what damping takes out. */
  eagerness: number;
  hz: number;
  damping: number;
  staticMu: number;
  kineticMu: number;
  /** Speed over which friction falls from static to kinetic, against the usual sliding speed. */
  fall: number;
}

function usualSpeed(slideMps: Float32Array, touch: Float32Array): number {
  let sum = 0;
  let count = 0;
  for (let i = 0; i < touch.length; i += 16) {
    if (touch[i]! <= 0) continue;
    sum += Math.abs(slideMps[i]!);
    count++;
  }
  return Math.max(0.02, sum / Math.max(1, count));
}

/** Friction force on the part, per unit mass: a sawtooth-like cycle near the part's own frequency while it sings. */
export function rubbingForce(o: Rubbing): Float32Array {
  const n = o.slideMps.length;
  const dt = 1 / o.sampleRateHz;
  const w = 2 * Math.PI * o.hz;
  const fallMps = o.fall * usualSpeed(o.slideMps, o.touch);
  // Falling friction feeds press·(μs − μk)/fall into a velocity, damping takes 2ζω out.
  const pressMps2 = (o.eagerness * 2 * o.damping * w * fallMps) / (o.staticMu - o.kineticMu);
  const out = new Float32Array(n);
  let x = 0;
  let v = 0;
  for (let i = 0; i < n; i++) {
    // Nothing begins with full press: a recording starts in the middle of the rubbing.
    const press = pressMps2 * o.touch[i]! * Math.min(1, (i * dt) / 0.05);
    let f = 0;
    if (press > 0) {
      const slip = o.slideMps[i]! - v;
      const soft = Math.max(0.002, press * dt);
      const mu = o.kineticMu + (o.staticMu - o.kineticMu) * Math.exp(-Math.abs(slip) / fallMps);
      f = press * mu * Math.tanh(slip / soft);
    }
    const a = f - w * w * x - 2 * o.damping * w * v;
    v += a * dt;
    x += v * dt;
    // Radiated is the movement of the part; its steady deflection is not.
    out[i] = v * w;
  }
  return out;
}
