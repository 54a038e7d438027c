import { gainOfDb } from "./canvas.js";
import type { Dice } from "./dice.js";
import type { Colour } from "./painted-noise.js";

/** A telephone: its colour, its automatic gain and what the file keeps. */
export interface Phone {
  readonly rateHz: number;
  readonly codec: string;
  readonly colour: Colour;
  readonly gainControlDb: number;
  readonly gateDb: number;
  readonly levelDb: number;
  readonly words: string;
}

const FILES: readonly (readonly [
  readonly [rateHz: number, topHz: number, codec: string],
  number,
])[] = [
  [[48_000, 20_000, "AAC 48 kHz"], 4],
  [[44_100, 16_000, "AAC 44.1 kHz"], 4],
  [[48_000, 12_000, "Opus 48 kHz"], 1.5],
  [[24_000, 11_000, "MP3 24 kHz"], 1.5],
  [[16_000, 7000, "Opus 16 kHz"], 1.5],
  [[8000, 3400, "AMR-NB 8 kHz"], 0.8],
];

export function drawPhone(dice: Dice): Phone {
  const [rateHz, topHz, codec] = dice.weighted(FILES);
  const bassHz = dice.ratio(70, 300);
  const bassSlope = dice.one([6, 12, 12, 18]);
  const presenceHz = dice.ratio(1800, 6000);
  const points: [number, number][] = [
    [10, -Math.min(60, bassSlope * Math.log2(bassHz / 10))],
    [bassHz, -3],
  ];
  for (let hz = bassHz * 1.6; hz < topHz; hz *= 1.45) {
    const lift = dice.between(0, 6) * Math.exp(-(Math.log2(hz / presenceHz) ** 2));
    points.push([hz, lift + 1.2 * dice.bell()]);
  }
  points.push([topHz, -3], [topHz * 1.12, -60], [topHz * 4, -70]);
  const gainControlDb = dice.chance(0.5) ? dice.between(2, 9) : 0;
  const gateDb = dice.chance(0.2) ? dice.between(4, 12) : 0;
  return {
    rateHz,
    codec,
    colour: points,
    gainControlDb,
    gateDb,
    levelDb: dice.between(-34, -13),
    words: `bass from ${Math.round(bassHz)} Hz, gain control ${gainControlDb.toFixed(0)} dB, noise gate ${gateDb.toFixed(0)} dB`,
  };
}

/** Gain control, the noise gate that pulls quiet moments down, a soft limit and 16 bits. */
export function record(sound: Float32Array, phone: Phone, dice: Dice): Float32Array {
  const { rateHz } = phone;
  let power = 0;
  for (const value of sound) power += value * value;
  const rms = Math.sqrt(power / sound.length) || 1;
  const out = new Float32Array(sound.length);
  const slow = Math.exp(-1 / (dice.between(0.15, 1.2) * rateHz));
  const share = phone.gainControlDb / 18;
  const level = gainOfDb(phone.levelDb);
  let heard = rms * rms;
  let quick = heard;
  const fast = Math.exp(-1 / (0.03 * rateHz));
  let gain = 1;
  for (let n = 0; n < sound.length; n++) {
    const now = sound[n]! * sound[n]!;
    heard = slow * heard + (1 - slow) * now;
    quick = fast * quick + (1 - fast) * now;
    if (n % 32 === 0) {
      gain = Math.pow(heard / rms / rms + 1e-4, -0.5 * share);
      if (quick < 0.5 * heard) gain *= gainOfDb(-phone.gateDb * (1 - (2 * quick) / heard));
    }
    const value = (level * gain * sound[n]!) / rms;
    const limited =
      Math.abs(value) < 0.6
        ? value
        : Math.sign(value) * (0.6 + 0.38 * Math.tanh((Math.abs(value) - 0.6) / 0.38));
    out[n] = Math.round(limited * 32_767 + dice.unit() - 0.5) / 32_768;
  }
  return out;
}
