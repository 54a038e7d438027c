import type { Component, MachineProfileId, Phase } from "../../src/machine/words.js";
import type { Truth } from "../../src/evaluation/truth.js";
import {
  atLevel,
  blank,
  framePowers,
  gainOfDb,
  lay,
  soundingFrames,
  stretch,
  type Canvas,
  type Layer,
} from "./canvas.js";
import { complained, drawComplaint } from "./complaints.js";
import { CURVE_HZ, type Curve } from "./curve.js";
import { Dice } from "./dice.js";
import { FAULTS, type Fault } from "./fault-table.js";
import { drawMachine, machinesWith } from "./machine.js";
import { voicesInOrder } from "./machine-in-order.js";
import { floorColour, paintNoise } from "./painted-noise.js";
import { drawPhone, record, type Phone } from "./phone.js";
import { throughRoom } from "./room.js";
import { drawScene, type Scene } from "./scene.js";
import { music, speech, STRANGERS } from "./strange-sounds.js";

export interface Shares {
  readonly normalShare?: number;
  readonly notWasherShare?: number;
  /** Length of every clip; 8 to 25 s, mostly 15, when left out. */
  readonly seconds?: number;
}

/** The two halves of a clip as the microphone gets them, before the phone touches their level. */
export interface Parts {
  readonly fault: Layer;
  readonly rest: Layer;
  readonly phone: Phone;
  readonly dice: Dice;
  readonly truth: Truth;
}

/** What the phone recorded, and what it is. */
export interface DrawnClip {
  readonly samples: Float32Array;
  readonly sampleRateHz: number;
  readonly truth: Truth;
}

const PHASE_WEIGHTS: readonly (readonly [Phase, number])[] = [
  ["fill", 0.8],
  ["wash", 1.2],
  ["drain", 1],
  ["spin", 1.6],
  ["coast", 0.55],
  ["hand-spin", 0.35],
];

/** Rooms are seldom silent: a floor, now and then people, a television or a tap. */
function room(canvas: Canvas): Layer {
  const { dice } = canvas;
  const colour = floorColour(dice, dice.ratio(60, 200), dice.between(3, 7), dice.between(1, 3));
  const floor = atLevel(
    paintNoise(canvas, [{ colour, driftDb: 1 }]),
    dice.between(-38, -14),
    canvas.rateHz,
  );
  if (!dice.chance(0.15)) return floor;
  const guest = dice.weighted<(canvas: Canvas) => Layer>([
    [speech, 3],
    [music, 1],
    [STRANGERS["rain"]!, 1],
  ]);
  return lay(floor, atLevel(guest(canvas), dice.between(-24, -6), canvas.rateHz));
}

function machineInOrder(scene: Scene, normal: boolean): { layer: Layer; note: string } {
  const { canvas } = scene;
  const layer = room(canvas);
  for (const voice of voicesInOrder(scene)) lay(layer, voice.layer);
  const complaint =
    normal || canvas.dice.chance(0.15) ? drawComplaint(scene) : "nothing in particular";
  const extra = complained(scene, complaint);
  const level = normal ? canvas.dice.between(-4, 9) : canvas.dice.between(-14, -4);
  if (extra) lay(layer, atLevel(extra, level, canvas.rateHz));
  return { layer, note: complaint };
}

/** Speed in the longest steady stretch, else the mean while the drum turns; null where it never does. */
export function typicalRpm(rpm: Curve): number | null {
  let best = { length: 0, mean: 0 };
  let start = 0;
  let sum = 0;
  for (let k = 0; k < rpm.length; k++) {
    const mean = k > start ? sum / (k - start) : rpm[k]!;
    if (rpm[k]! < 3 || Math.abs(rpm[k]! - mean) > 0.015 * mean) {
      start = k;
      sum = 0;
    }
    sum += rpm[k]!;
    if (k - start > best.length) best = { length: k - start, mean: sum / (k - start + 1) };
  }
  const turning = rpm.filter((value) => value >= 3);
  if (turning.length === 0) return null;
  if (best.length > 2 * CURVE_HZ) return best.mean;
  return turning.reduce((total, value) => total + value, 0) / turning.length;
}

function truthOf(scene: Scene, fault: Fault | null, note: string): Partial<Truth> {
  const { machine, phase, drumRpm, canvas } = scene;
  const typical = typicalRpm(drumRpm);
  const track = Array.from({ length: Math.floor(canvas.seconds * 2) + 1 }, (_, k) => {
    const rpm = drumRpm[Math.round((k * CURVE_HZ) / 2)]!;
    return { timeSeconds: k / 2, rpm: rpm < 3 ? null : rpm };
  });
  return {
    machine: machine.id,
    phase,
    faults: fault ? [fault.component] : [],
    character: fault?.character ?? "none",
    ageYears: machine.ageYears,
    drumRpm: { typical, track },
    motorToDrum: machine.ratio,
    lineHz: machine.lineHz,
    note,
  };
}

/** Loudness of one sound over another while it sounds, dB. */
export function overDb(fault: Layer, rest: Layer, rateHz: number): number {
  const loud = framePowers(fault, rateHz);
  const other = framePowers(rest, rateHz);
  const frames = soundingFrames(loud);
  const sum = (powers: Float64Array) => frames.reduce((total, k) => total + powers[k]!, 0);
  return 10 * Math.log10(sum(loud) / Math.max(1e-20, sum(other)));
}

function drawFault(dice: Dice): { fault: Fault; phase: Phase; id: MachineProfileId } {
  const fault = dice.weighted(FAULTS.map((one) => [one, one.weight] as const));
  const phases = Object.entries(fault.heard) as [Phase, number][];
  const phase = dice.weighted(
    phases.map(([one, p]) => [one, one === "hand-spin" || one === "coast" ? 0.5 * p : p] as const),
  );
  const fitting = machinesWith(fault.component).filter((id) => fits(fault.component, phase, id));
  return { fault, phase, id: dice.one(fitting) };
}

/** A top loader's drum stands in the wash; what is heard once a turn of the drum needs a front loader there. */
const NEEDS_TUMBLE: readonly Component[] = [
  "drum-bearing",
  "levelling",
  "door-boot",
  "balance-ring",
];
function fits(component: Component, phase: Phase, id: MachineProfileId): boolean {
  const front = id.startsWith("front");
  if (component === "shift-actuator" && phase === "drain") return id === "top-load-belt";
  if (component === "motor-coupling" || component === "spin-brake") return true;
  return phase !== "wash" || front || !NEEDS_TUMBLE.includes(component);
}

function stranger(canvas: Canvas): { fault: Layer; rest: Layer; truth: Partial<Truth> } {
  const name = canvas.dice.one(Object.keys(STRANGERS));
  const rest = lay(room(canvas), atLevel(STRANGERS[name]!(canvas), 0, canvas.rateHz));
  return { fault: blank(canvas), rest, truth: { washer: false, faults: [], note: name } };
}

function washer(
  canvas: Canvas,
  normal: boolean,
): { fault: Layer; rest: Layer; truth: Partial<Truth> } {
  const { dice } = canvas;
  const drawn = normal ? null : drawFault(dice);
  const phase = drawn?.phase ?? dice.weighted(PHASE_WEIGHTS);
  const machine = drawMachine(dice, drawn?.id ?? dice.one(machinesWith("normal")));
  const scene = drawScene(canvas, machine, phase, drawn?.fault.need ?? "any");
  const { layer, note } = machineInOrder(scene, normal);
  const fault = drawn ? drawn.fault.make(scene) : blank(canvas);
  return {
    fault,
    rest: layer,
    truth: { washer: true, ...truthOf(scene, drawn?.fault ?? null, note) },
  };
}

/** Draws a clip up to the microphone: fault and everything else apart, at their levels. */
export function drawParts(seed: number, shares: Shares = {}, attempt = 0): Parts {
  const dice = new Dice(seed + attempt * 0x2545f491);
  const phone = drawPhone(dice);
  const drawnSeconds = dice.chance(0.7) ? 15 : dice.between(8, 25);
  const seconds = shares.seconds ?? drawnSeconds;
  const canvas = stretch(phone.rateHz, seconds, dice);
  const kind = dice.unit();
  const notWasher = shares.notWasherShare ?? 0.1;
  const made =
    kind < notWasher
      ? stranger(canvas)
      : washer(canvas, kind < notWasher + (shares.normalShare ?? 0.25));
  const faulty = (made.truth.faults ?? []).length > 0;
  // A part that found no moment to sound in this course says nothing: draw another clip.
  if (faulty && !made.fault.some((value) => Math.abs(value) > 1e-6)) {
    return drawParts(seed, shares, attempt + 1);
  }
  const heard = throughRoom([made.fault, made.rest], phone.rateHz, phone.colour, dice);
  const wanted = dice.between(0, 12);
  const gain = faulty ? gainOfDb(wanted - overDb(heard[0], heard[1], phone.rateHz)) : 0;
  const truth: Truth = {
    schema: "washer-noise/truth@1",
    file: `drawn-${seed}.wav`,
    washer: true,
    faults: [],
    ...made.truth,
    ...(faulty ? { faultToBackgroundDb: wanted } : {}),
    simulator: "drawn-sounds",
    phone: phone.words,
    codec: phone.codec,
    seed,
  };
  return { fault: heard[0].map((value) => value * gain), rest: heard[1], phone, dice, truth };
}

/** A recording with known truth; the same seed gives the same bytes. */
export function drawClip(seed: number, shares: Shares = {}): DrawnClip {
  return recordParts(drawParts(seed, shares));
}

/** The clip that the phone makes of the two halves; once only, for it draws on their dice. */
export function recordParts({ fault, rest, phone, dice, truth }: Parts): DrawnClip {
  const samples = record(lay(fault.slice(), rest), phone, dice);
  return { samples, sampleRateHz: phone.rateHz, truth };
}
