import type { Dice } from "./dice.js";

export interface Room {
  name: string;
  reverbSeconds: number;
  directToRoomDb: number;
  brightHz: number;
}

export function drawRoom(dice: Dice): Room {
  return dice.pick([
    {
      name: "bathroom",
      reverbSeconds: dice.range(0.5, 1.2),
      directToRoomDb: dice.range(-5, 4),
      brightHz: dice.range(5000, 10000),
    },
    {
      name: "kitchen",
      reverbSeconds: dice.range(0.3, 0.7),
      directToRoomDb: dice.range(-3, 7),
      brightHz: dice.range(3500, 8000),
    },
    {
      name: "cellar",
      reverbSeconds: dice.range(0.5, 1.1),
      directToRoomDb: dice.range(-4, 8),
      brightHz: dice.range(3000, 7000),
    },
    {
      name: "cupboard",
      reverbSeconds: dice.range(0.15, 0.35),
      directToRoomDb: dice.range(0, 10),
      brightHz: dice.range(2500, 6000),
    },
  ]);
}

const LINES = 6;

/** Direct sound, a handful of early reflections and a feedback-delay network. */
export function inRoom(
  x: Float32Array,
  room: Room,
  sampleRateHz: number,
  dice: Dice,
): Float32Array {
  const n = x.length;
  const wet = new Float32Array(n);
  const lines = Array.from(
    { length: LINES },
    (_, k) =>
      new Float32Array(
        Math.round(sampleRateHz * (0.013 + 0.0085 * k) * dice.range(0.85, 1.15)) | 1,
      ),
  );
  const heads = new Int32Array(LINES);
  const gains = lines.map((l) => Math.pow(10, (-3 * l.length) / sampleRateHz / room.reverbSeconds));
  const lows = new Float64Array(LINES);
  const dull = 1 - Math.exp((-2 * Math.PI * room.brightHz) / sampleRateHz);
  const signs = lines.map(() => (dice.chance(0.5) ? 1 : -1));
  for (let i = 0; i < n; i++) {
    let sum = 0;
    for (let k = 0; k < LINES; k++) {
      lows[k]! += dull * (lines[k]![heads[k]!]! - lows[k]!) + 1e-25;
      sum += lows[k]!;
    }
    let heard = 0;
    const share = (2 / LINES) * sum;
    for (let k = 0; k < LINES; k++) {
      const line = lines[k]!;
      heard += signs[k]! * lows[k]!;
      line[heads[k]!] = x[i]! + gains[k]! * (share - lows[k]!);
      heads[k]! = heads[k]! + 1 === line.length ? 0 : heads[k]! + 1;
    }
    wet[i] = heard;
  }
  addEarly(wet, x, sampleRateHz, dice);
  return mixed(x, wet, room.directToRoomDb);
}

function addEarly(wet: Float32Array, x: Float32Array, sampleRateHz: number, dice: Dice): void {
  for (let k = 0; k < 5; k++) {
    const delay = Math.round(sampleRateHz * dice.range(0.001, 0.014));
    const gain = dice.range(0.5, 1.4) * (dice.chance(0.5) ? 1 : -1);
    for (let i = delay; i < x.length; i++) wet[i]! += gain * x[i - delay]!;
  }
}

function mixed(x: Float32Array, wet: Float32Array, directToRoomDb: number): Float32Array {
  let dry2 = 0;
  let wet2 = 1e-20;
  for (let i = 0; i < x.length; i++) {
    dry2 += x[i]! * x[i]!;
    wet2 += wet[i]! * wet[i]!;
  }
  const gain = Math.sqrt(dry2 / wet2) * Math.pow(10, -directToRoomDb / 20);
  for (let i = 0; i < x.length; i++) wet[i] = x[i]! + gain * wet[i]!;
  return wet;
}
