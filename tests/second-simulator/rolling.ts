import type { Dice } from "./dice.js";
import { heightAt, type Surface } from "./surface.js";
import type { Ball } from "./washer.js";

/** Ball ÷ pitch diameter times the cosine of the contact angle. */
export function sizeRatio(b: Ball): number {
  return (b.ballMm / b.pitchMm) * Math.cos((b.contactDeg * Math.PI) / 180);
}

/** Cage turns per shaft turn with the outer ring still: ½(1 − γ). */
export function cagePerTurn(b: Ball): number {
  return 0.5 * (1 - sizeRatio(b));
}

export interface RollingBearing {
  sampleRateHz: number;
  shaftTurns: Float64Array;
  shaftHz: Float32Array;
  size: Ball;
  inner: Surface;
  outer: Surface;
  /** Radius error of single balls against the rest. */
  ballError: number;
  /** Load that stands still (weight, belt), and load that turns with the shaft at 10 turns/s. */
  standingLoad: number;
  turningLoad: number;
  /** Preload that keeps every ball in contact. */
  preload: number;
  /** Mean share by which the cage lags behind pure rolling. */
  cageSlip: number;
}

const COS = new Float32Array(4097).map((_, i) => Math.cos((2 * Math.PI * i) / 4096));

/** Sum of ball loads as the balls roll over the two races: linearised Hertz contact, load zone and slip included. */
export function rollingForce(o: RollingBearing, dice: Dice): Float32Array {
  const n = o.shaftTurns.length;
  const out = new Float32Array(n);
  const balls = o.size.balls;
  const seat = Array.from(
    { length: balls },
    (_, j) => j / balls + 0.006 * dice.gauss() * o.cageSlip * 20,
  );
  const error = Array.from({ length: balls }, () => o.ballError * dice.gauss());
  const lag = cagePerTurn(o.size) / o.sampleRateHz;
  const wanderK = 8 / o.sampleRateHz;
  let slip = o.cageSlip;
  let cage = dice.unit();
  for (let i = 0; i < n; i++) {
    const hz = o.shaftHz[i]!;
    if ((i & 255) === 0) slip += 256 * wanderK * (o.cageSlip * (1 + 0.7 * dice.gauss()) - slip);
    cage += hz * lag * (1 - slip);
    cage -= Math.floor(cage);
    const shaft = o.shaftTurns[i]! - Math.floor(o.shaftTurns[i]!);
    const s = (shaft * 4096) | 0;
    const turning = o.turningLoad * hz * hz * 0.01;
    const lx = o.standingLoad + turning * COS[s]!;
    const ly = turning * COS[(s + 3072) & 4095]!;
    let f = 0;
    for (let j = 0; j < balls; j++) {
      let p = cage + seat[j]!;
      p -= Math.floor(p);
      const c = (p * 4096) | 0;
      const w = o.preload + lx * COS[c]! + ly * COS[(c + 3072) & 4095]!;
      if (w > 0) f += w * (heightAt(o.outer, p) + heightAt(o.inner, p - shaft + 1) + error[j]!);
    }
    out[i] = f;
  }
  return out;
}
