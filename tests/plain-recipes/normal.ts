import type { Dice } from "./dice.js";
import { soundBearing } from "./faults-bearing.js";
import { clicks, coilHum, shaftBlows } from "./faults-drive.js";
import { designRatchet } from "./faults-gear.js";
import { laundryFalls, mildBeat, zipRattle } from "./faults-knock.js";
import {
  bubbles,
  gulps,
  pumpHum,
  pumpSpells,
  splashes,
  valveSpells,
  waterJet,
} from "./faults-water.js";
import {
  bump,
  gate,
  grows,
  seconds,
  steadyTones,
  swing,
  turnTones,
  unsteady,
  type Scene,
} from "./scene.js";
import {
  add,
  band,
  bandNoise,
  drawModes,
  levelled,
  pinkNoise,
  times,
  type Signal,
} from "./sound.js";

/** A sound that the machine should make, with the range of its level in dB. */
export interface Layer {
  name: string;
  share: number;
  db: readonly [number, number];
  make: (scene: Scene, dice: Dice) => Signal;
}

/** Turn of the motor and its low multiples, as every motor whines a little. */
function motorWhine(scene: Scene, dice: Dice): Signal {
  const rows = [1, 2, 3, 4, 6].map(
    (k) => [k, dice.between(0.05, 1) * (dice.chance(0.8) ? 1 : 0.05)] as const,
  );
  const { motorTurns, motorHz, drumTurns } = scene.course;
  const out = times(
    turnTones(scene, motorTurns, rows, dice),
    grows(motorHz, dice.between(0.3, 1.5)),
  );
  return times(
    times(out, unsteady(scene, dice.between(0.3, 2), dice)),
    swing(drumTurns, dice.between(0, 0.25), dice),
  );
}

/** Lines of the motor's magnetism, by its kind. */
function magneticWhine(scene: Scene, dice: Dice): Signal {
  const { machine, course } = scene;
  const { polePairs: p, slots, bars, profile } = machine;
  const orders: Record<string, readonly number[]> = {
    universal: [bars, bars - 1, bars + 1, slots, 2 * bars],
    "induction-inverter": [2 * p, 6 * p, bars, bars - 2 * p, bars + 2 * p],
    "induction-mains": [bars, bars + 2, bars - 2, slots],
    "permanent-magnet-belt": [2 * p, 4 * p, 6 * p, 12 * p, slots],
    "permanent-magnet-direct": [2 * p, 4 * p, 6 * p, 12 * p, slots],
  };
  const rows = orders[profile.motor.kind]!.map((order) => [order, dice.between(0.05, 1)] as const);
  const out = times(
    turnTones(scene, course.motorTurns, rows, dice),
    grows(course.motorHz, dice.between(0.2, 1.2)),
  );
  const unfed = profile.motor.kind.startsWith("permanent") ? dice.between(0.1, 0.6) : 0.03;
  times(
    out,
    course.fed.map((on) => unfed + (1 - unfed) * on),
  );
  return times(
    times(out, unsteady(scene, dice.between(0.3, 2.5), dice)),
    swing(course.drumTurns, dice.between(0, 0.3), dice),
  );
}

/** Air and drum noise, in most clips louder in one part of the turn. */
function airNoise(scene: Scene, dice: Dice): Signal {
  const out = bandNoise(
    scene.length,
    scene.rate,
    [dice.spread(80, 350), dice.spread(1500, 7000)],
    dice,
  );
  const { drumHz, drumTurns } = scene.course;
  times(out, grows(drumHz, dice.between(1, 2.6)));
  times(out, swing(drumTurns, dice.chance(0.85) ? dice.between(0.05, 0.4) : 0, dice));
  return times(out, unsteady(scene, dice.between(0.2, 1.5), dice));
}

/** Belt that runs over its pulleys, swinging a little with its own turn. */
function beltRun(scene: Scene, dice: Dice): Signal {
  const { inputTurns, inputHz } = scene.course;
  const out = times(
    bandNoise(scene.length, scene.rate, [300, dice.spread(1500, 5000)], dice),
    grows(inputHz, dice.between(0.8, 2)),
  );
  return times(
    out,
    swing(
      inputTurns.map((turn) => turn * scene.machine.beltPerInput),
      dice.between(0.02, 0.25),
      dice,
    ),
  );
}

/** Hum of a motor on the mains, with the beat of its slip. */
function mainsHum(scene: Scene, dice: Dice): Signal {
  const out = times(coilHum(scene, dice, 8), scene.course.fed);
  const beat = 2 * scene.machine.motorSlip * scene.machine.lineHz;
  const depth = dice.between(0, 0.5);
  for (let k = 0; k < out.length; k++)
    out[k] = out[k]! * (1 + depth * Math.sin((2 * Math.PI * beat * k) / scene.rate));
  return out;
}

function carrier(scene: Scene, dice: Dice): Signal {
  const hz = scene.machine.carrierHz!;
  const side = dice.between(20, 400);
  return times(
    steadyTones(
      scene,
      [
        [hz, 1],
        [hz + side, 0.3],
        [hz - side, 0.3],
      ],
      dice,
    ),
    scene.course.fed,
  );
}

function torqueGrowl(scene: Scene, dice: Dice): Signal {
  return times(coilHum(scene, dice, 10), scene.course.pull);
}

const runningPump = (scene: Scene, dice: Dice): Signal => {
  const flow = levelled(
    times(bandNoise(scene.length, scene.rate, [300, 4000], dice), unsteady(scene, 2, dice, 4)),
  );
  return times(
    add(levelled(pumpHum(scene, dice, 10)), flow, dice.between(0.1, 0.9)),
    gate(scene, pumpSpells(scene, dice), 0.15),
  );
};

/** End of pump-out: air and water by turns. */
function snore(scene: Scene, dice: Dice): Signal {
  const from = dice.between(0, 0.6) * seconds(scene);
  const air = levelled(
    bubbles(scene, dice.spread(3, 14), [dice.spread(200, 600), dice.spread(2500, 7000)], dice),
  );
  add(air, levelled(gulps(scene, dice.spread(8, 50), dice)), dice.between(0.2, 1));
  return times(air, gate(scene, [[from, from + dice.between(3, 15)]], 0.4));
}

/** Liquid or balls that spread as the drum passes the low speeds. */
function ringSlosh(scene: Scene, dice: Dice): Signal {
  const out = bandNoise(scene.length, scene.rate, [200, dice.spread(900, 2500)], dice);
  times(out, swing(scene.course.drumTurns, dice.between(0.4, 0.95), dice));
  return times(out, bump(scene.course.drumHz, dice.between(2, 5), 0.8));
}

const oddClicks = (scene: Scene, dice: Dice): Signal =>
  clicks(
    scene,
    Array.from({ length: dice.whole(1, 4) }, () => dice.between(0.05, seconds(scene) - 0.1)),
    [900, 6500],
    dice,
  );

/** Click, buzz of some seconds, click: a mode shifter or a drain valve at work. */
function shifterAtWork(scene: Scene, dice: Dice): Signal {
  const from = dice.between(0, 2);
  const lasts = dice.between(0.8, 4);
  const buzz = times(levelled(coilHum(scene, dice, 6)), gate(scene, [[from, from + lasts]]));
  return add(
    levelled(clicks(scene, [from, from + lasts], [900, 5000], dice)),
    levelled(buzz),
    dice.between(0.1, 0.6),
  );
}

/** Agitator or motor with each stroke: a rush of noise and a soft clunk at the turn-round. */
function strokeNoise(scene: Scene, dice: Dice): Signal {
  const { inputHz, strokes } = scene.course;
  const rush = times(
    bandNoise(scene.length, scene.rate, [150, dice.spread(1200, 4000)], dice),
    grows(inputHz, dice.between(0.6, 1.6)),
  );
  const marks = strokes.map(({ from }) => from + 0.02);
  const bumps = clicks(scene, marks, [80, 500], dice);
  return add(levelled(rush), levelled(bumps), dice.between(0, 0.6));
}

/** Healthy gears are heard too, faintly. */
function gearHum(scene: Scene, dice: Dice): Signal {
  const { meshPerInput } = scene.machine;
  const rows = [1, 2, 3].map((k) => [k * meshPerInput, dice.between(0.2, 1) / k] as const);
  return times(
    turnTones(scene, scene.course.inputTurns, rows, dice),
    grows(scene.course.inputHz, 1),
  );
}

const fridge = (scene: Scene, dice: Dice): Signal => coilHum(scene, dice, 4);

const handTouch = (scene: Scene, dice: Dice): Signal =>
  clicks(
    scene,
    scene.course.strokes.map(({ from }) => Math.max(0, from - 0.05)),
    [100, 1200],
    dice,
  );

const seamTicks = (scene: Scene, dice: Dice): Signal =>
  shaftBlows(
    scene,
    scene.course.drumTurns,
    1,
    drawModes(dice, [300, 2500], 3, [0.003, 0.012]),
    dice,
  );

const room: Layer = {
  name: "room",
  share: 1,
  db: [-32, -12],
  make: (scene, dice) =>
    band(pinkNoise(scene.length, dice), scene.rate, 60, dice.spread(1500, 9000)),
};

/** The drive turns. */
function turningLayers({ machine: { profile } }: Scene): Layer[] {
  return [
    { name: "air", share: 0.97, db: [-8, 0], make: airNoise },
    { name: "motor", share: 0.9, db: [-20, 0], make: motorWhine },
    { name: "magnetic", share: 0.85, db: [-22, 0], make: magneticWhine },
    { name: "bearing", share: 0.8, db: [-20, -5], make: soundBearing },
    { name: "belt", share: profile.belt === null ? 0 : 0.7, db: [-24, -8], make: beltRun },
    { name: "beat", share: 0.5, db: [-18, -4], make: mildBeat },
    { name: "seam", share: 0.15, db: [-24, -12], make: seamTicks },
  ];
}

/** The drive is fed. */
function electricLayers({ machine, rate }: Scene): Layer[] {
  const { kind } = machine.profile.motor;
  const heard = machine.carrierHz !== null && machine.carrierHz < 0.45 * rate;
  return [
    { name: "hum", share: kind === "induction-mains" ? 1 : 0, db: [-16, 0], make: mainsHum },
    { name: "torque", share: kind === "universal" ? 0.7 : 0, db: [-22, -6], make: torqueGrowl },
    { name: "carrier", share: heard ? 0.6 : 0, db: [-36, -14], make: carrier },
  ];
}

const odd: Layer[] = [
  room,
  { name: "fridge", share: 0.15, db: [-34, -20], make: fridge },
  { name: "clicks", share: 0.35, db: [-14, 0], make: oddClicks },
];
const shifter: Layer = { name: "shifter", share: 0.35, db: [-16, -3], make: shifterAtWork };
const ring: Layer = { name: "ring", share: 0.5, db: [-17, -3], make: ringSlosh };

function washLayers(scene: Scene): Layer[] {
  const turning = turningLayers(scene);
  const water: Layer[] = [
    { name: "splashes", share: 0.85, db: [-14, 0], make: splashes },
    { name: "refill", share: 0.15, db: [-12, -2], make: waterJet },
  ];
  if (scene.machine.vertical) {
    return [
      ...turning.slice(1, 3),
      ...water,
      { name: "strokes", share: 1, db: [-4, 0], make: strokeNoise },
      { name: "gears", share: 0.7, db: [-24, -8], make: gearHum },
      { name: "design ratchet", share: 0.12, db: [-22, -10], make: designRatchet },
      shifter,
    ];
  }
  return [
    ...turning,
    ...water,
    { name: "laundry", share: 0.8, db: [-12, 0], make: laundryFalls },
    { name: "zip", share: 0.15, db: [-16, -4], make: zipRattle },
  ];
}

function drainLayers(scene: Scene): Layer[] {
  const motorRuns = scene.machine.profile.pumpDrivenBy === "wash-motor";
  return [
    ...(motorRuns ? [...turningLayers(scene).slice(1, 3), ...electricLayers(scene)] : []),
    { name: "pump", share: 1, db: [-3, 0], make: runningPump },
    { name: "snore", share: 0.4, db: [-6, 4], make: snore },
    { ...shifter, share: scene.machine.vertical ? 0.35 : 0 },
  ];
}

function spinLayers(scene: Scene): Layer[] {
  return [
    ...turningLayers(scene),
    ...electricLayers(scene),
    { name: "pump", share: 0.5, db: [-14, -1], make: runningPump },
    { name: "snore", share: 0.2, db: [-12, 0], make: snore },
    { name: "spray", share: 0.08, db: [-14, -4], make: waterJet },
    { ...shifter, share: 0.1 },
    ring,
  ];
}

/** What may sound in order in this scene. */
export function normalLayers(scene: Scene): Layer[] {
  switch (scene.phase) {
    case "fill":
      return [
        ...odd,
        { name: "jet", share: 1, db: [-4, 0], make: gatedJet },
        { name: "valve", share: 0.9, db: [-22, -3], make: coilHum },
      ];
    case "drain":
      return [...odd, ...drainLayers(scene)];
    case "wash":
      return [...odd, ...electricLayers(scene), ...washLayers(scene)];
    case "spin":
      return [...odd, ...spinLayers(scene)];
    case "coast":
      return [...odd, ...turningLayers(scene), ...electricLayers(scene), ring];
    default:
      return [
        room,
        ...turningLayers(scene),
        { name: "clicks", share: 0.2, db: [-20, -6], make: oddClicks },
        { name: "touch", share: 0.8, db: [-14, -2], make: handTouch },
        ring,
      ];
  }
}

const gatedJet = (scene: Scene, dice: Dice): Signal =>
  times(waterJet(scene, dice), gate(scene, valveSpells(scene, dice), 0.08));
