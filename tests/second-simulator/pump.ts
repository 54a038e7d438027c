import type { Dice } from "./dice.js";
import { addBlow } from "./loose-mass.js";
import { heightAt, roughSurface } from "./surface.js";

const TWO_PI = 2 * Math.PI;

export interface PumpRun {
  sampleRateHz: number;
  /** 1 while it runs. */
  on: Float32Array;
  /** Turns of its rotor per second, Hz; the line's for a synchronous pump. */
  rotorHz: number | Float32Array;
  lineHz: number;
  vanes: number;
}

function rotorTurns(p: PumpRun): Float64Array {
  const out = new Float64Array(p.on.length);
  let turns = 0.21;
  for (let i = 0; i < out.length; i++) {
    const hz = typeof p.rotorHz === "number" ? p.rotorHz : p.rotorHz[i]!;
    turns += (hz * p.on[i]!) / p.sampleRateHz;
    out[i] = turns;
  }
  return out;
}

/** A pump in order: pull of the field at twice the line, uneven vanes, a little out of balance. */
export function soundPump(p: PumpRun, dice: Dice, electric: boolean): Float32Array {
  const turns = rotorTurns(p);
  const out = new Float32Array(p.on.length);
  const vane = Array.from({ length: p.vanes }, () => 1 + 0.2 * dice.gauss());
  const lag = dice.unit();
  const vaneLevel = dice.range(0.1, 0.5);
  const w = (TWO_PI * p.lineHz) / p.sampleRateHz;
  const third = dice.range(0.05, 0.35);
  for (let i = 0; i < out.length; i++) {
    const on = p.on[i]!;
    if (on === 0) continue;
    const a = turns[i]! * p.vanes;
    const k = Math.floor(a) % p.vanes;
    const x = a - Math.floor(a);
    const pass = vane[k]! * Math.exp(-20 * (x - 0.5) * (x - 0.5)) - 0.35;
    const b = Math.sin(w * i + lag) + third * Math.sin(3 * w * i + 2);
    const field = electric ? b * b - 0.5 : 0;
    out[i] = on * (field + vaneLevel * pass + 0.1 * Math.cos(TWO_PI * turns[i]!));
  }
  return out;
}

/** A stone in the volute: it flies until a vane sends it on again; blows fall on vane passages, irregularly. */
export function stoneForce(p: PumpRun, dice: Dice): Float32Array {
  const out = new Float32Array(p.on.length);
  const turns = rotorTurns(p);
  let i = dice.whole(0, 2000);
  let speed = 1;
  while (i < out.length) {
    if (p.on[i]! < 0.5) {
      i += 200;
      continue;
    }
    const contact = 0.00018 * p.sampleRateHz * dice.ratio(0.7, 1.6);
    addBlow(out, i, speed * dice.ratio(0.4, 1.5), Math.max(3, contact));
    // Flight to the wall and back, then wait for the next vane.
    const flight = (dice.ratio(0.004, 0.05) / speed) * p.sampleRateHz;
    addBlow(out, i + flight * dice.range(0.3, 0.6), 0.5 * speed, Math.max(3, contact * 1.3));
    let next = Math.round(i + flight);
    if (next >= out.length) break;
    const want = Math.ceil(turns[next]! * p.vanes) / p.vanes;
    while (next < out.length && turns[next]! < want && p.on[next]! >= 0.5) next++;
    speed = Math.max(0.25, Math.min(1.8, 0.55 * speed + 0.6 * dice.unit()));
    // Now and then it lies in a dead corner for a while.
    i = next + 1 + (dice.chance(0.03) ? Math.round(dice.range(0.1, 0.5) * p.sampleRateHz) : 0);
  }
  return out;
}

/** Rotor in a worn bush: it whirls in its clearance, pulled at twice the line, and rubs. */
export function wornBushForce(p: PumpRun, dice: Dice): Float32Array {
  const n = p.on.length;
  const out = new Float32Array(n);
  const turns = rotorTurns(p);
  const dt = 1 / p.sampleRateHz;
  const clear = dice.range(0.1, 0.3);
  const stiff = Math.pow(TWO_PI * dice.range(1400, 3800), 2);
  const unbalance = dice.range(0.2, 0.7) * clear;
  const pull = dice.range(0.4, 1.6) * clear * Math.pow(TWO_PI * p.lineHz * 2, 2);
  const mu = dice.range(0.08, 0.3);
  const w2 = TWO_PI * 2 * p.lineHz * dt;
  const bore = roughSurface(dice.part("bore"), {
    finestWaves: 80,
    waviness: 0.6,
    pits: dice.whole(0, 3),
    pitDepth: 3,
    pitLength: 0.02,
    patchiness: 0.6,
  });
  let x = 0.5 * clear;
  let y = 0;
  let vx = 0;
  let vy = 0;
  for (let i = 0; i < n; i++) {
    const on = p.on[i]!;
    const hz = typeof p.rotorHz === "number" ? p.rotorHz : p.rotorHz[i]!;
    const turn = TWO_PI * turns[i]!;
    const w = TWO_PI * hz * on;
    const r = Math.sqrt(x * x + y * y) + 1e-9;
    const deep = r - clear + 0.04 * clear * heightAt(bore, turns[i]!);
    let ax = unbalance * w * w * Math.cos(turn) + on * pull * Math.sin(w2 * i) - 60 * vx;
    let ay = unbalance * w * w * Math.sin(turn) - 0.15 * pull - 60 * vy;
    let contact = 0;
    if (deep > 0) {
      const along = (vy * x - vx * y) / r + w * 4 * clear;
      contact = Math.max(0, stiff * deep * (1 + (0.0015 * (vx * x + vy * y)) / r / clear));
      const rub = mu * contact * Math.tanh(along * 3);
      ax += (-contact * x + rub * y) / r;
      ay += (-contact * y - rub * x) / r;
    }
    vx += ax * dt;
    vy += ay * dt;
    x += vx * dt;
    y += vy * dt;
    out[i] = contact * (x / r);
  }
  return out;
}
