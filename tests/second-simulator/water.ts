import type { Dice } from "./dice.js";

const TWO_PI = 2 * Math.PI;

export interface Bubbles {
  sampleRateHz: number;
  length: number;
  /** Bubbles per second at activity 1. */
  perSecond: number;
  /** Radii, m. */
  radiusM: readonly [number, number];
}

/** Natural frequency of an air bubble in water, Hz: about 3.26 / radius in m (Minnaert). */
export function bubbleHz(radiusM: number): number {
  return 3.26 / radiusM;
}

/** Bubbles that ring as they close, each a decaying tone that rises a little. */
export function bubbleSound(o: Bubbles, activity: Float32Array, dice: Dice): Float32Array {
  const out = new Float32Array(o.length);
  const most = o.perSecond / o.sampleRateHz;
  let at = 0;
  while (at < o.length) {
    at += Math.max(1, Math.ceil(-Math.log(1 - dice.unit()) / most));
    if (at >= o.length) break;
    if (dice.unit() > activity[at]!) continue;
    const radius = dice.ratio(o.radiusM[0], o.radiusM[1]);
    addBubble(out, at, {
      radius,
      strength: radius * 400 * dice.ratio(0.3, 3),
      rate: o.sampleRateHz,
      rise: dice.range(0, 0.15),
    });
  }
  return out;
}

function addBubble(
  out: Float32Array,
  at: number,
  b: { radius: number; strength: number; rate: number; rise: number },
): void {
  const hz = bubbleHz(b.radius);
  if (hz > 0.45 * b.rate) return;
  const decay = hz * 0.13 + 0.0072 * Math.pow(hz, 1.5);
  const length = Math.min(out.length - at, Math.floor((5 * b.rate) / decay));
  const loss = Math.exp(-decay / b.rate);
  let phase = 0;
  let level = b.strength;
  for (let k = 0; k < length; k++) {
    phase += (TWO_PI * hz * (1 + (b.rise * k) / length)) / b.rate;
    out[at + k]! += level * Math.sin(phase);
    level *= loss;
  }
}

/** Turbulent jet: noise whose level flutters. */
export function jetForce(flow: Float32Array, dice: Dice): Float32Array {
  const out = dice.noise(flow.length);
  let flutter = 1;
  for (let i = 0; i < out.length; i++) {
    if ((i & 63) === 0) flutter += 0.06 * (1 + 0.9 * dice.gauss() - flutter);
    const q = flow[i]!;
    out[i]! *= q * q * Math.max(0.2, flutter);
  }
  return out;
}

/** Air dragged round by a turning drum: noise rising with the square of the rim speed, gusting with its holes and ribs once a turn. */
export function windForce(hz: Float32Array, turns: Float64Array, dice: Dice): Float32Array {
  const out = dice.noise(hz.length);
  const gust = dice.range(0, 0.12);
  const at = dice.unit();
  for (let i = 0; i < out.length; i++) {
    const v = Math.abs(hz[i]!) * 0.05;
    out[i]! *= v * v * (1 + gust * Math.cos(TWO_PI * (turns[i]! + at)));
  }
  return out;
}

/** Closing a valve on moving water: pressure wave running up and down the pipe. */
export function waterHammer(
  closing: number,
  o: { length: number; sampleRateHz: number; dice: Dice },
): Float32Array {
  const out = new Float32Array(o.length);
  const travel = Math.max(8, Math.round(o.sampleRateHz / o.dice.range(25, 90) / 2));
  const pipe = new Float32Array(travel);
  let head = 0;
  let soft = 0;
  const close = Math.round(0.004 * o.sampleRateHz);
  for (let i = closing; i < Math.min(o.length, closing + o.sampleRateHz * 2); i++) {
    const k = i - closing;
    const shock = k < close ? Math.sin((Math.PI * k) / close) : 0;
    soft += 0.35 * (pipe[head]! - soft);
    const back = -0.86 * soft;
    pipe[head] = shock + back;
    head = (head + 1) % travel;
    out[i] = shock * 2 + back;
  }
  return out;
}
