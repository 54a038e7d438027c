import type { Dice } from "./dice.js";
import type { Drive } from "./drive.js";
import type { Gear } from "./washer.js";

/** One mesh: how the teeth of two wheels err, and how the stiffness steps from one to two pairs. */
interface Mesh {
  teeth: number;
  errors: Float32Array;
}

function drawMesh(dice: Dice, teeth: number, error: number, chipped: boolean): Mesh {
  const errors = new Float32Array(teeth + 1);
  for (let i = 0; i < teeth; i++) errors[i] = error * dice.gauss();
  if (chipped) errors[dice.whole(0, teeth - 1)]! -= 6;
  errors[teeth] = errors[0]!;
  return { teeth, errors };
}

/** Transmission error over one tooth: worn flank (second harmonic and on) and the step in stiffness. */
function drawFlank(dice: Dice, wear: number): Float32Array {
  const flank = new Float32Array(257);
  const second = dice.range(0.3, 0.9);
  const third = dice.range(0.1, 0.6);
  const step = dice.range(0.35, 0.65);
  for (let i = 0; i < 256; i++) {
    const x = i / 256;
    const worn =
      wear *
      (Math.sin(2 * Math.PI * x) +
        second * Math.sin(4 * Math.PI * x + 1) +
        third * Math.sin(6 * Math.PI * x + 2));
    flank[i] = worn + 0.8 * Math.tanh(14 * (x < 0.5 ? x : 1 - x)) * (x < step ? 1 : -0.4);
  }
  flank[256] = flank[0]!;
  return flank;
}

function meshForce(mesh: Mesh, flank: Float32Array, teethPassed: number): number {
  const whole = Math.floor(teethPassed);
  const x = teethPassed - whole;
  const k = ((whole % mesh.teeth) + mesh.teeth) % mesh.teeth;
  // A tooth takes over from its neighbour within a fifth of the pitch.
  const hand = x > 0.8 ? (x - 0.8) * 5 : 0;
  const e =
    mesh.errors[k]! + (mesh.errors[k + 1]! - mesh.errors[k]!) * hand * hand * (3 - 2 * hand);
  return flank[(x * 256) | 0]! + e;
}

export interface GearWear {
  /** Tooth-to-tooth error against the stiffness step. */
  error: number;
  flank: number;
  chipped: boolean;
}

/** Load on the teeth: stroke torque on both directions, and a little always. */
function toothLoad(d: Drive, i: number): number {
  return (
    0.15 +
    Math.min(1.3, Math.abs(d.torque[i]!)) *
      (d.power[i]! > 0.02 || Math.abs(d.agitatorHz[i]!) > 0.2 ? 1 : 0.2)
  );
}

function planetaryForce(gear: Gear, d: Drive, wear: GearWear, dice: Dice): Float32Array {
  const out = new Float32Array(d.length);
  const sunFlank = drawFlank(dice, wear.flank);
  const ringFlank = drawFlank(dice, wear.flank);
  const sun = drawMesh(dice, gear.sunTeeth, wear.error, wear.chipped);
  const ring = drawMesh(dice, gear.ringTeeth, wear.error, false);
  const share = Array.from({ length: gear.planets }, () => dice.range(0.7, 1.3));
  const sunPerCarrier = gear.reduction;
  for (let i = 0; i < d.length; i++) {
    const hz = d.agitatorHz[i]!;
    if (Math.abs(hz) < 0.02) continue;
    const carrier = d.agitatorTurns[i]!;
    const relative = carrier * (sunPerCarrier - 1);
    let f = 0;
    for (let p = 0; p < gear.planets; p++) {
      const seat = p / gear.planets;
      f += share[p]! * meshForce(sun, sunFlank, gear.sunTeeth * (relative + seat));
      f += share[p]! * meshForce(ring, ringFlank, gear.ringTeeth * (carrier + seat));
    }
    out[i] = f * toothLoad(d, i) * Math.min(1, Math.abs(hz) * 2);
  }
  return out;
}

function pinionForce(
  gear: Gear,
  d: Drive,
  wear: GearWear,
  o: { inputPerMotor: number; dice: Dice },
): Float32Array {
  const out = new Float32Array(d.length);
  const flank = drawFlank(o.dice, wear.flank);
  const pinion = drawMesh(o.dice, gear.sunTeeth, wear.error, false);
  const wheel = drawMesh(o.dice, gear.ringTeeth, wear.error, wear.chipped);
  for (let i = 0; i < d.length; i++) {
    if (d.motorHz[i]! < 1) continue;
    const passed = gear.sunTeeth * d.motorTurns[i]! * o.inputPerMotor;
    const load = 0.3 + Math.abs(d.agitatorHz[i]!) * 0.8;
    out[i] = load * (meshForce(pinion, flank, passed) + meshForce(wheel, flank, passed + 0.3));
  }
  return out;
}

/** Force of the meshing teeth. Planets turn against each other in the wash only; in spin the set is locked. */
export function gearForce(
  gear: Gear,
  d: Drive,
  wear: GearWear,
  o: { inputPerMotor: number; dice: Dice },
): Float32Array {
  if (d.phase !== "wash" && d.phase !== "hand-spin") return new Float32Array(d.length);
  return gear.kind === "planetary"
    ? planetaryForce(gear, d, wear, o.dice)
    : pinionForce(gear, d, wear, o);
}
