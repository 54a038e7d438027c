import { COMPONENTS, MACHINE_PROFILES } from "../../../src/machine/words.js";
import { normalLayers } from "../../second-simulator/background.js";
import { Dice } from "../../second-simulator/dice.js";
import { runDrive } from "../../second-simulator/drive.js";
import { SHAKING } from "../../second-simulator/faults-shaking.js";
import { TURNING } from "../../second-simulator/faults-turning.js";
import { WASHING } from "../../second-simulator/faults-wash.js";
import { addTo, rmsOf } from "../../second-simulator/filters.js";
import { drawPhone, throughPhone } from "../../second-simulator/phone.js";
import { drawRoom, inRoom } from "../../second-simulator/room.js";
import { frameLevels, radiate, soundingLevel, type Variant } from "../../second-simulator/scene.js";
import { drawWasher, type Washer } from "../../second-simulator/washer.js";
import { plannedRecordings, type PairDraw, type PairRecording, type PairSet } from "./pair-set.js";

const RATE_HZ = 48_000;
const FAULTS: Record<string, Variant[]> = { ...TURNING, ...SHAKING, ...WASHING };
const PARTS = COMPONENTS.filter((part) => part in FAULTS);

/** Dice of the machine whose noise and chance belong to one moment. */
class MomentDice extends Dice {
  private readonly moment: Dice;

  constructor(
    private readonly path: string,
    private readonly key: string,
  ) {
    super(path);
    this.moment = new Dice(`${key}|${path}`);
  }

  override part(name: string): Dice {
    return new MomentDice(`${this.path}/${name}`, this.key);
  }

  override gauss(): number {
    return this.moment.gauss();
  }

  override noise(length: number): Float32Array {
    return this.moment.noise(length);
  }
}

interface Plot {
  readonly root: string;
  readonly washer: Washer;
  readonly variant: Variant;
  readonly phase: PairSet["phase"];
  readonly run: Dice;
}

interface Stems {
  readonly rest: Float32Array;
  readonly fault: Float32Array;
}

function plotOf(root: string, part: string, attempt: number): Plot | null {
  const run = new Dice(root).part(`run${attempt}`);
  for (let round = 0; round < 300; round++) {
    const roll = run.part(`plot${round}`);
    const washer = drawWasher(roll.pick(MACHINE_PROFILES), roll.part("washer"));
    if (part === "recirculation-pump") washer.recirculation = true;
    const fitting = FAULTS[part]!.filter((variant) => variant.fits(washer));
    if (fitting.length === 0) continue;
    const variant = roll.pick(fitting);
    const phase = run.part("phase").pick(variant.phases);
    return { root: `${root}/run${attempt}`, washer, variant, phase, run };
  }
  return null;
}

function stemsAt(
  { root, washer, variant, phase, run }: Plot,
  moment: 0 | 1,
  seconds: number,
): Stems {
  const key = `${root}/moment${moment}`;
  const shapes = variant.shapes ?? (["plateau", "plateau", "ramp", "step", "start"] as const);
  const steady = moment === 0 || washer.motor.kind === "single-phase";
  const speed = steady ? 1 : 1 + new Dice(key).range(-0.015, 0.015);
  const machine = { ...washer, spinRpm: washer.spinRpm * speed };
  const drive = runDrive(machine, phase, new MomentDice(`${root}/drive`, key), {
    seconds,
    sampleRateHz: RATE_HZ,
    shape: run.part("shape").pick(shapes),
    toRest: false,
    braked: false,
    waitSeconds: 0,
    valvePulses: false,
    ...variant.wish,
  });
  const scene = { washer: machine, drive, dice: new MomentDice(`${root}/scene`, key) };
  const hurt = { washer: machine, drive, dice: new MomentDice(`${root}/hurt`, key) };
  return {
    rest: radiate(scene, normalLayers(scene)),
    fault: radiate(hurt, variant.layers(hurt)),
  };
}

/** Gain that brings the fault to the level of the rest while it sounds; null when it stays silent. */
function unitGain({ rest, fault }: Stems): number | null {
  const { rms, frames } = soundingLevel(frameLevels(fault, RATE_HZ));
  if (!(rms > 0) || !Number.isFinite(rms)) return null;
  const behind = frameLevels(rest, RATE_HZ).filter((_, k) => frames[k]);
  return Math.sqrt(behind.reduce((sum, v) => sum + v * v, 0) / behind.length) / rms;
}

function recordedAt(sound: Float32Array, place: Dice): PairRecording {
  const drawn = drawPhone(place.part("phone"));
  const rateHz = drawn.rateHz >= 44_100 ? RATE_HZ : drawn.rateHz;
  const level = 1 / Math.max(1e-12, rmsOf(sound));
  const heard = inRoom(
    sound.map((v) => v * level),
    drawRoom(place.part("room")),
    RATE_HZ,
    place.part("echo"),
  );
  const phone = { ...drawn, innerRateHz: RATE_HZ, rateHz };
  const samples = throughPhone(heard, phone, place.part("noise"));
  return { samples, sampleRateHz: rateHz, harsh: rateHz < 16_000 };
}

function setOf(root: string, id: string, seconds: number): PairSet | null {
  const dice = new Dice(root);
  const part = dice.part("fault").pick(PARTS);
  for (let attempt = 0; attempt < 12; attempt++) {
    const plot = plotOf(root, part, attempt);
    if (plot === null) return null;
    const stems = [stemsAt(plot, 0, seconds), stemsAt(plot, 1, seconds)] as const;
    const unit = unitGain(stems[0]);
    if (unit === null) continue;
    const levelDb = dice.part("level").range(0, 12);
    const recordings: Record<string, PairRecording> = {};
    for (const planned of plannedRecordings(dice.part("jitter").gauss())) {
      const { rest, fault } = stems[planned.moment];
      const sound = rest.slice();
      if (planned.faultDb !== null)
        addTo(sound, fault, unit * 10 ** ((levelDb + planned.faultDb) / 20));
      recordings[planned.name] = recordedAt(sound, new Dice(`${root}/place-${planned.name}`));
    }
    return {
      id,
      machine: plot.washer.profile,
      phase: plot.phase,
      part,
      faultToRestDb: levelDb,
      recordings,
    };
  }
  return null;
}

/** Washers of the second simulator, made as those of the first. */
export function* secondPairs(
  seed: number,
  count: number,
  _draw: PairDraw,
  seconds: number,
): Generator<PairSet> {
  for (let index = 0; index < count; index++) {
    const made = setOf(`pairs/${seed}/${index}`, `${seed}-${index}`, seconds);
    if (made !== null) yield made;
  }
}
