import type { Dice } from "./dice.js";
import { fromDb, section, slope, type Signal } from "./sound.js";

/** Way of one sound through the cabinet: a few resonances, dips and a tilt, drawn anew for each. */
export function throughCabinet(x: Signal, rate: number, dice: Dice): Signal {
  for (let k = 0; k < dice.whole(2, 5); k++)
    section(
      x,
      rate,
      "peak",
      dice.spread(80, Math.min(6000, 0.4 * rate)),
      dice.spread(0.7, 9),
      dice.between(-8, 11),
    );
  if (dice.chance(0.4)) slope(x, rate, "low", dice.spread(2500, 9000));
  return x;
}

export interface Room {
  rt60Seconds: number;
  /** Tail under the straight sound, dB. */
  tailDb: number;
}

export const drawRoom = (dice: Dice): Room => ({
  rt60Seconds: dice.spread(0.2, 1.2),
  tailDb: dice.between(-14, 2),
});

/** Straight sound, some early echoes, and the tail of eight crossed delays (a feedback delay network). */
export function inRoom(x: Signal, rate: number, room: Room, dice: Dice): Signal {
  const delays = Array.from({ length: 8 }, () => Math.round(dice.between(0.011, 0.061) * rate));
  const losses = delays.map((delay) => 10 ** ((-3 * delay) / (room.rt60Seconds * rate)));
  const lines = delays.map((delay) => new Float32Array(delay));
  const at = new Int32Array(8);
  const dull = new Float32Array(8);
  const damping = Math.exp((-2 * Math.PI * dice.spread(2500, 9000)) / rate);
  const size =
    fromDb(room.tailDb) / Math.sqrt(8) / Math.sqrt(Math.max(0.05, room.rt60Seconds / 0.25));
  const early = Array.from(
    { length: dice.whole(2, 5) },
    () => [Math.round(dice.between(0.001, 0.02) * rate), dice.between(-0.6, 0.6)] as const,
  );
  const out = new Float32Array(x.length);
  const heard = new Float32Array(8);
  for (let k = 0; k < x.length; k++) {
    let sum = 0;
    for (let j = 0; j < 8; j++) {
      const fresh = lines[j]![at[j]!]!;
      dull[j] = fresh + damping * (dull[j]! - fresh);
      heard[j] = dull[j]! * losses[j]!;
      sum += heard[j]!;
    }
    const crossed = sum / 4;
    let echo = x[k]!;
    for (const [delay, share] of early) if (k >= delay) echo += share * x[k - delay]!;
    let tail = 0;
    for (let j = 0; j < 8; j++) {
      tail += j % 2 === 0 ? heard[j]! : -heard[j]!;
      lines[j]![at[j]!] = x[k]! + heard[j]! - crossed;
      at[j] = at[j]! + 1 === delays[j]! ? 0 : at[j]! + 1;
    }
    out[k] = echo + size * tail;
  }
  return out;
}

export interface Phone {
  rateHz: number;
  highPassHz: number;
  order: number;
  presence: [hz: number, q: number, db: number][];
  narrowHz: number | null;
  levelDb: number;
  gainControl: { attackSeconds: number; releaseSeconds: number; share: number } | null;
  limiter: boolean;
  clips: boolean;
  noiseDb: number;
}

export const PHONE_RATES = [16_000, 22_050, 32_000, 44_100, 48_000] as const;

export function drawPhone(dice: Dice): Phone {
  const control = dice.chance(0.25);
  return {
    rateHz: PHONE_RATES[dice.weighted([2, 1, 1, 4, 4])]!,
    highPassHz: dice.between(60, 180),
    order: dice.whole(1, 4),
    presence: Array.from({ length: dice.whole(1, 4) }, () => [
      dice.spread(150, 7000),
      dice.spread(0.5, 3),
      dice.between(-10, 10),
    ]),
    narrowHz: dice.chance(0.1) ? dice.pick([3400, 7000]) : null,
    levelDb: dice.between(-38, -16),
    gainControl: control
      ? {
          attackSeconds: dice.spread(0.005, 0.05),
          releaseSeconds: dice.spread(0.2, 2),
          share: dice.between(0.3, 0.9),
        }
      : null,
    limiter: dice.chance(0.2),
    clips: dice.chance(0.05),
    noiseDb: dice.between(-88, -66),
  };
}

export const phoneInWords = (phone: Phone): string =>
  [
    `high-pass ${phone.highPassHz.toFixed(0)} Hz, order ${String(phone.order)}`,
    ...(phone.narrowHz === null ? [] : [`band to ${String(phone.narrowHz)} Hz`]),
    ...(phone.gainControl === null ? [] : ["automatic gain"]),
    ...(phone.limiter ? ["limiter"] : []),
    ...(phone.clips ? ["clipping"] : []),
  ].join(", ");

function controlled(x: Signal, rate: number, control: NonNullable<Phone["gainControl"]>): void {
  const quick = 1 - Math.exp(-1 / (control.attackSeconds * rate));
  const slow = 1 - Math.exp(-1 / (control.releaseSeconds * rate));
  let follow = x.slice(0, rate).reduce((sum, v) => sum + Math.abs(v), 0) / rate + 1e-6;
  const middle = follow;
  for (let k = 0; k < x.length; k++) {
    const size = Math.abs(x[k]!);
    follow += (size > follow ? quick : slow) * (size - follow);
    x[k] = x[k]! * (middle / Math.max(follow, 0.05 * middle)) ** control.share;
  }
}

/** What the phone makes of the sound: filters, level, gain control, limiter, clipping, whole 16-bit numbers. */
export function throughPhone(x: Signal, phone: Phone, dice: Dice): Signal {
  const rate = phone.rateHz;
  for (let k = 0; k < Math.floor(phone.order / 2); k++) section(x, rate, "high", phone.highPassHz);
  if (phone.order % 2 === 1) slope(x, rate, "high", phone.highPassHz);
  for (const [hz, q, db] of phone.presence) section(x, rate, "peak", hz, q, db);
  if (phone.narrowHz !== null && phone.narrowHz < 0.45 * rate) {
    for (const q of [0.51, 0.6, 0.9, 2.56]) section(x, rate, "low", phone.narrowHz, q);
  }
  if (phone.gainControl !== null) controlled(x, rate, phone.gainControl);
  let power = 0;
  let top = 1e-9;
  for (const v of x) {
    power += v * v;
    top = Math.max(top, Math.abs(v));
  }
  const wished = fromDb(phone.levelDb) / Math.max(1e-9, Math.sqrt(power / x.length));
  const gain = phone.clips
    ? wished * dice.between(2, 4)
    : phone.limiter
      ? wished
      : Math.min(wished, 0.97 / top);
  const hiss = fromDb(phone.noiseDb);
  for (let k = 0; k < x.length; k++) {
    let v = x[k]! * gain + hiss * (dice.next() + dice.next() - 1) * 2.45;
    if (phone.limiter && Math.abs(v) > 0.5)
      v = Math.sign(v) * (0.5 + 0.45 * Math.tanh((Math.abs(v) - 0.5) / 0.45));
    x[k] = Math.round(Math.max(-1, Math.min(32_767 / 32_768, v)) * 32_768) / 32_768;
  }
  return x;
}
