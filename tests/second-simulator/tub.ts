/** Suspended tub as a two-direction mass on springs with dampers, shaken by a turning unbalance. */
export interface Tub {
  /** Bounce and sway frequencies, Hz: (1/2π)√(k/m). */
  bounceHz: number;
  swayHz: number;
  damping: number;
  /** Dry friction of the dampers as acceleration, m/s². */
  dryMps2: number;
  /** Unbalance m·r over the suspended mass, m. */
  unbalanceM: number;
  /** Way to the cabinet before the tub strikes, m. */
  gapM: number;
  /** Contact time of the strike, s. */
  contactSeconds: number;
  restitution: number;
}

export interface TubMotion {
  /** Contact force over mass while the tub touches the cabinet, m/s². */
  strike: Float32Array;
  /** Acceleration of the tub, vertical and sideways, m/s². */
  vertical: Float32Array;
  sideways: Float32Array;
  /** Spring and damper force over mass handed to the cabinet, m/s². */
  handed: Float32Array;
}

/** Force of a mass m (kg) at radius r (m) turning at f (Hz): m r ω², N. */
export function turningForce(massKg: number, radiusM: number, hz: number): number {
  const w = 2 * Math.PI * hz;
  return massKg * radiusM * w * w;
}

const STEP = 8;

function spread(coarse: Float32Array, length: number): Float32Array {
  const out = new Float32Array(length);
  for (let i = 0; i < length; i++) {
    const p = i / STEP;
    const j = p | 0;
    const b = coarse[Math.min(j + 1, coarse.length - 1)]!;
    out[i] = coarse[j]! + (b - coarse[j]!) * (p - j);
  }
  return out;
}

/** Integrates the tub at an eighth of the sample rate (semi-implicit Euler). */
export function shakeTub(
  t: Tub,
  drumTurns: Float64Array,
  drumHz: Float32Array,
  sampleRateHz: number,
): TubMotion {
  const n = drumHz.length;
  const steps = Math.ceil(n / STEP) + 1;
  const dt = STEP / sampleRateHz;
  const wy = 2 * Math.PI * t.bounceHz;
  const wx = 2 * Math.PI * t.swayHz;
  const blow = 0.35;
  const k =
    (1.25 * blow * blow) / Math.pow((blow * Math.max(t.contactSeconds, 5 * dt)) / 2.94, 2.5);
  const loss = (1.5 * (1 - t.restitution)) / blow;
  const strike = new Float32Array(steps);
  const vertical = new Float32Array(steps);
  const sideways = new Float32Array(steps);
  const handed = new Float32Array(steps);
  let x = 0;
  let y = 0;
  let vx = 0;
  let vy = 0;
  for (let s = 0; s < steps; s++) {
    const i = Math.min(n - 1, s * STEP);
    const turn = 2 * Math.PI * drumTurns[i]!;
    const w = 2 * Math.PI * drumHz[i]!;
    const shake = t.unbalanceM * w * w;
    const springY = -wy * wy * y - 2 * t.damping * wy * vy - t.dryMps2 * Math.tanh(vy / 0.004);
    const springX = -wx * wx * x - 2 * t.damping * wx * vx - t.dryMps2 * Math.tanh(vx / 0.004);
    const away = Math.sqrt(x * x + y * y);
    let hit = 0;
    if (away > t.gapM) {
      const d = away - t.gapM;
      const speed = (x * vx + y * vy) / away;
      hit = Math.max(0, k * d * Math.sqrt(d) * (1 + loss * speed));
    }
    const pull = away > 0 ? hit / away : 0;
    const ay = springY + shake * Math.sin(turn) - pull * y;
    const ax = springX + shake * Math.cos(turn) - pull * x;
    vy += ay * dt;
    vx += ax * dt;
    y += vy * dt;
    x += vx * dt;
    strike[s] = hit;
    vertical[s] = ay;
    sideways[s] = ax;
    handed[s] = -springY - 0.5 * springX;
  }
  return {
    strike: spread(strike, n),
    vertical: spread(vertical, n),
    sideways: spread(sideways, n),
    handed: spread(handed, n),
  };
}
