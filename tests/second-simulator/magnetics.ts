import type { Dice } from "./dice.js";
import type { Drive } from "./drive.js";
import type { Motor } from "./washer.js";

const TWO_PI = 2 * Math.PI;
const SIZE = 16384;

/** What is wrong with the machine's iron or magnets. */
export interface MagnetFault {
  /** One magnet weaker or shifted, as a share of its strength. */
  magnet: number;
  /** One stator tooth or bolt loose, as a share of its pull. */
  tooth: number;
}

interface MagnetTables {
  /** Radial pull over a turn with no current: cogging and pole pulses. */
  idle: Float32Array;
  /** Extra pull while current flows. */
  loaded: Float32Array;
}

/** Field of one pole along its pitch, flat-topped. */
function poleField(x: number): number {
  const s = Math.sin(Math.PI * x);
  return Math.pow(Math.max(0, s), 0.6);
}

/** Pull of magnets on teeth, summed tooth by tooth over one turn of the rotor. */
function magnetTables(m: Motor, fault: MagnetFault, dice: Dice): MagnetTables {
  const poles = 2 * m.polePairs;
  const idle = new Float32Array(SIZE + 1);
  const loaded = new Float32Array(SIZE + 1);
  const strength = Array.from({ length: poles }, () => 1 + 0.012 * dice.gauss());
  const pull = Array.from({ length: m.slots }, () => 1 + 0.02 * dice.gauss());
  strength[dice.whole(0, poles - 1)]! -= fault.magnet;
  pull[dice.whole(0, m.slots - 1)]! += fault.tooth;
  const lopsided = dice.range(0.02, 0.15);
  for (let i = 0; i < SIZE; i++) {
    const turn = i / SIZE;
    for (let s = 0; s < m.slots; s++) {
      const at = (turn + s / m.slots) * poles;
      const pole = Math.floor(at) % poles;
      const b = strength[pole]! * poleField(at - Math.floor(at));
      const seat = pull[s]! * (1 + lopsided * Math.cos((TWO_PI * s) / m.slots));
      idle[i]! += seat * b * b;
      // Each phase carries a sine current in step with the poles.
      const phase = TWO_PI * (m.polePairs * turn + (s % 3) / 3);
      loaded[i]! += seat * b * Math.abs(Math.sin(phase));
    }
  }
  return { idle: centred(idle), loaded: centred(loaded) };
}

function centred(x: Float32Array): Float32Array {
  let mean = 0;
  for (let i = 0; i < SIZE; i++) mean += x[i]! / SIZE;
  let power = 1e-12;
  for (let i = 0; i < SIZE; i++) {
    x[i]! -= mean;
    power += (x[i]! * x[i]!) / SIZE;
  }
  for (let i = 0; i < SIZE; i++) x[i]! /= Math.sqrt(power);
  x[SIZE] = x[0]!;
  return x;
}

function readTurn(table: Float32Array, turns: number): number {
  const p = (turns - Math.floor(turns)) * SIZE;
  const i = p | 0;
  return table[i]! + (table[i + 1]! - table[i]!) * (p - i);
}

function magnetForce(m: Motor, d: Drive, fault: MagnetFault, dice: Dice): Float32Array {
  const t = magnetTables(m, fault, dice);
  const out = new Float32Array(d.length);
  const cog = dice.range(0.25, 0.6);
  const carrier = m.pwmHz < 0.45 * d.sampleRateHz ? dice.ratio(0.02, 0.3) : 0;
  for (let i = 0; i < d.length; i++) {
    const turns = d.motorTurns[i]!;
    const moving = Math.min(1, Math.abs(d.motorHz[i]!) * 2);
    const load = d.power[i]! * (0.25 + Math.abs(d.torque[i]!));
    let f = moving * (cog * readTurn(t.idle, turns) + load * readTurn(t.loaded, turns));
    if (carrier > 0 && d.power[i]! > 0) {
      const electric = TWO_PI * m.polePairs * turns;
      f +=
        carrier *
        d.power[i]! *
        Math.sin((TWO_PI * m.pwmHz * i) / d.sampleRateHz + Math.sin(electric)) *
        (1 + 0.5 * Math.cos(2 * electric));
    }
    out[i] = f;
  }
  return out;
}

/** Single-phase machine: field of the line squared, seen through the turning rotor bars. */
function singlePhaseForce(m: Motor, d: Drive, lineHz: number, dice: Dice): Float32Array {
  const out = new Float32Array(d.length);
  const bars = dice.range(0.02, 0.08);
  const offCentre = dice.range(0.01, 0.08);
  const saturation = dice.range(0.05, 0.4);
  const w = (TWO_PI * lineHz) / d.sampleRateHz;
  const shift = dice.unit();
  for (let i = 0; i < d.length; i++) {
    const power = d.power[i]!;
    if (power === 0) continue;
    const rotor = TWO_PI * d.motorTurns[i]!;
    const gap = 1 + bars * Math.cos(m.bars * rotor) + offCentre * Math.cos(rotor);
    const b = gap * Math.sin(w * i + shift);
    out[i] =
      power * (0.7 + 0.5 * Math.abs(d.torque[i]!)) * (b * b + saturation * b * b * b * b - 0.5);
  }
  return out;
}

/** Inverter-fed cage motor: field turns a little faster than the rotor. */
function cageForce(m: Motor, d: Drive, dice: Dice): Float32Array {
  const out = new Float32Array(d.length);
  const bars = dice.range(0.02, 0.1);
  const ripple = dice.range(0.02, 0.12);
  const carrier = m.pwmHz < 0.45 * d.sampleRateHz ? dice.ratio(0.02, 0.25) : 0;
  let electric = 0;
  for (let i = 0; i < d.length; i++) {
    const hz = d.motorHz[i]!;
    electric += (TWO_PI * m.polePairs * hz * (1.015 + 0.02 * d.torque[i]!)) / d.sampleRateHz;
    const power = d.power[i]!;
    if (power === 0 || Math.abs(hz) < 0.5) continue;
    const rotor = TWO_PI * d.motorTurns[i]!;
    const b =
      (1 + bars * Math.cos(m.bars * rotor) + 0.04 * Math.cos(rotor)) *
      (Math.sin(electric) + ripple * Math.sin(5 * electric) - ripple * Math.sin(7 * electric));
    out[i] =
      power *
      (b * b -
        0.5 +
        carrier * Math.sin((TWO_PI * m.pwmHz * i) / d.sampleRateHz) * Math.cos(electric));
  }
  return out;
}

/** Commutator: height of the bars over a turn. Worn ones carry ridges and a proud bar. */
export function commutator(m: Motor, dice: Dice, wear: number): Float32Array {
  const out = new Float32Array(SIZE + 1);
  const height = Array.from({ length: m.bars }, () => 0.3 * wear * dice.gauss());
  if (wear > 0.5) height[dice.whole(0, m.bars - 1)]! += 2 * wear;
  for (let i = 0; i < SIZE; i++) {
    const x = (i / SIZE) * m.bars;
    const bar = Math.floor(x);
    const f = x - bar;
    const slot = f > 0.88 ? -Math.sin((Math.PI * (f - 0.88)) / 0.12) : 0;
    out[i] = height[bar]! + 0.8 * slot + 0.25 * wear * dice.gauss();
  }
  out[SIZE] = out[0]!;
  return out;
}

/** Current of a phase-cut supply, or of a chopper (steady). */
function seriesCurrent(m: Motor, d: Drive, lineHz: number, i: number): number {
  const level = d.power[i]! * (0.3 + Math.abs(d.torque[i]!));
  if (!m.triac) return level;
  const phase = (2 * lineHz * i) / d.sampleRateHz;
  const x = phase - Math.floor(phase);
  const fire = 0.62 - 0.35 * Math.min(1, Math.abs(d.motorHz[i]!) / 250);
  return x > fire ? level * Math.sin(Math.PI * x) * 2 : 0;
}

function universalForce(m: Motor, d: Drive, lineHz: number, dice: Dice): Float32Array {
  const out = new Float32Array(d.length);
  const bars = commutator(m, dice, 0.12);
  const slots = dice.range(0.1, 0.35);
  let current = 0;
  for (let i = 0; i < d.length; i++) {
    current += 0.08 * (seriesCurrent(m, d, lineHz, i) - current);
    const turns = d.motorTurns[i]!;
    const moving = Math.min(1, Math.abs(d.motorHz[i]!) / 20);
    const rotor = TWO_PI * turns;
    const torque = current * current * (1 + slots * Math.cos(m.slots * rotor));
    out[i] =
      torque +
      moving *
        (0.15 * readTurn(bars, turns) * (0.4 + current) +
          0.25 * Math.cos(rotor) +
          0.1 * Math.cos(2 * rotor + 1));
  }
  return out;
}

/** Brush noise: sparks at the bar edges, scaled by current and wear. */
export function brushForce(
  m: Motor,
  d: Drive,
  lineHz: number,
  o: { dice: Dice; wear: number },
): Float32Array {
  const out = new Float32Array(d.length);
  const bars = commutator(m, o.dice, o.wear);
  const bounceHz = o.dice.range(900, 2600);
  const w2 = Math.pow((TWO_PI * bounceHz) / d.sampleRateHz, 2);
  let x = 0;
  let v = 0;
  let arc = 0;
  for (let i = 0; i < d.length; i++) {
    const hz = Math.abs(d.motorHz[i]!);
    if (hz < 0.3) continue;
    const current = seriesCurrent(m, d, lineHz, i);
    const turns = d.motorTurns[i]!;
    const ground = readTurn(bars, turns);
    // The brush rides on its spring and leaves the bars where they drop faster than it can follow.
    const press = ground - x;
    v += w2 * (press > 0 ? press : 0.15 * press) - 0.12 * v - 0.0004;
    x += v;
    const edge = turns * m.bars - Math.floor(turns * m.bars) < 0.12 ? 1 : 0;
    const open = x > ground + 0.02 ? 1 : 0;
    arc =
      0.6 * arc +
      current * o.wear * (edge + 2 * open) * (o.dice.unit() < 0.35 ? o.dice.unit() - 0.5 : 0);
    out[i] = Math.min(1, hz / 15) * (0.15 * Math.max(0, press) + arc * 3);
  }
  return out;
}

/** Magnetic force of the drive motor on its housing. */
export function motorForce(m: Motor, d: Drive, lineHz: number, dice: Dice): Float32Array {
  switch (m.kind) {
    case "single-phase":
      return singlePhaseForce(m, d, lineHz, dice);
    case "universal":
      return universalForce(m, d, lineHz, dice);
    case "inverter-induction":
      return cageForce(m, d, dice);
    default:
      return magnetForce(m, d, { magnet: 0, tooth: 0 }, dice);
  }
}

/** Magnetic force of a direct drive with a hurt magnet or a loose stator tooth, less what a sound one makes. */
export function hurtMagnetForce(m: Motor, d: Drive, fault: MagnetFault, name: Dice): Float32Array {
  const sound = magnetForce(m, d, { magnet: 0, tooth: 0 }, name.part("same"));
  const hurt = magnetForce(m, d, fault, name.part("same"));
  for (let i = 0; i < hurt.length; i++) hurt[i]! -= 0.8 * sound[i]!;
  return hurt;
}
