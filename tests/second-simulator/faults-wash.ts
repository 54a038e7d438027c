import type { Dice } from "./dice.js";
import { addBlow, addBouncing, looseMassForce } from "./loose-mass.js";
import { gearForce } from "./gears.js";
import { soundPump, stoneForce, wornBushForce, type PumpRun } from "./pump.js";
import { row, TWO_PI, type Layer, type Scene, type Variant } from "./scene.js";
import { bubbleSound, jetForce, waterHammer } from "./water.js";
import type { Washer } from "./washer.js";

const any = () => true;

/** Pulley turns per motor turn in front of the gear case. */
export function gearInput(w: Washer): number {
  return w.belt ? 1 / w.motorToDrum : 1;
}

function wornGears(s: Scene, o: { error: number; flank: number; chipped: boolean }): Layer[] {
  const dice = s.dice.part("gears");
  const gear = s.washer.gear!;
  return [
    {
      force: gearForce(gear, s.drive, o, { inputPerMotor: gearInput(s.washer), dice }),
      path: "tub",
      db: 0,
    },
    {
      force: gearForce(gear, s.drive, o, { inputPerMotor: gearInput(s.washer), dice }),
      path: "cabinet",
      db: dice.range(-14, -4),
    },
  ];
}

/** Pawls or worn dogs jumping over while the agitator is driven the slipping way. */
export function ratchetClicks(s: Scene, dice: Dice, worn: boolean): Float32Array {
  const d = s.drive;
  const out = new Float32Array(d.length);
  const teeth = dice.whole(9, 24) * (worn ? 1 : 1.4);
  const way = dice.chance(0.5) ? 1 : -1;
  let last = 0;
  let turns = 0;
  for (let i = 0; i < d.length; i++) {
    const hz = d.agitatorHz[i]! * way;
    if (hz <= 0.02) continue;
    turns += (hz * (worn ? 1.2 + 0.4 * Math.sin(turns * 9) : 1)) / d.sampleRateHz;
    const tooth = Math.floor(turns * teeth);
    if (tooth === last) continue;
    last = tooth;
    const strength = dice.ratio(0.5, 1.5) * (0.3 + Math.min(1.5, hz));
    addBouncing(out, {
      atSample: i,
      strength,
      contactSamples: dice.range(0.0004, 0.0009) * d.sampleRateHz,
      flightSamples: dice.range(0.002, 0.006) * d.sampleRateHz,
      restitution: dice.range(0.2, 0.5),
    });
  }
  return out;
}

/** Teeth of the slider passing those of the pulley until the basket has caught up. */
function clutchTeeth(s: Scene): Layer[] {
  const d = s.drive;
  const dice = s.dice.part("clutch");
  const out = new Float32Array(d.length);
  const teeth = dice.whole(14, 40);
  const catching = dice.range(0.4, 2.2);
  let ahead = 0;
  let turns = 0;
  let last = 0;
  let jump = 0;
  for (let i = 1; i < d.length; i++) {
    const started = d.power[i]! > 0.5 && d.power[i - 1]! <= 0.5;
    const moving = Math.abs(d.agitatorHz[i]!) > 0.15 && Math.abs(d.agitatorHz[i - 1]!) <= 0.15;
    jump -= 1 / d.sampleRateHz;
    const springsOut = d.phase === "spin" && jump < 0 && d.power[i]! > 0.5;
    if (started || moving || springsOut) {
      ahead = dice.range(1.5, 5) * (d.phase === "wash" ? 0.6 : 1);
      jump = dice.range(2, 5);
    }
    ahead = Math.max(0, ahead * (1 - 1 / (catching * 0.5 * d.sampleRateHz)) - 0.2 / d.sampleRateHz);
    turns += ahead / d.sampleRateHz;
    const tooth = Math.floor(turns * teeth);
    if (tooth !== last)
      addBlow(
        out,
        i + dice.range(0, 20),
        dice.ratio(0.4, 1.6) * (0.4 + ahead),
        dice.range(0.0003, 0.0008) * d.sampleRateHz,
      );
    last = tooth;
  }
  return [
    { force: out, path: "tub", db: 0 },
    { force: out, path: "plastic", db: dice.range(-10, 0) },
  ];
}

/** Armature buzzing against its stop at twice the line, where `on` is set. */
function coilBuzz(s: Scene, on: Float32Array, dice: Dice): Float32Array {
  const w = (TWO_PI * s.washer.lineHz) / s.drive.sampleRateHz;
  const bias = dice.range(0.25, 0.55);
  const push = row(s, (i) => {
    const a = Math.sin(w * i);
    return on[i]! * 60 * (a * a - bias) - (1 - on[i]!) * 20;
  });
  return looseMassForce({
    sampleRateHz: s.drive.sampleRateHz,
    push,
    gapM: dice.ratio(0.00003, 0.00015),
    contactSeconds: dice.ratio(0.0003, 0.0008),
    restitution: dice.range(0.1, 0.4),
  });
}

/** Click, buzz, click: the actuator tries again and again. */
export function actuator(s: Scene, o: { tries: number; start: number }): Layer[] {
  const d = s.drive;
  const dice = s.dice.part("actuator");
  const clicks = new Float32Array(d.length);
  const on = new Float32Array(d.length);
  let at = o.start * d.sampleRateHz;
  for (let k = 0; k < o.tries; k++) {
    const hold = dice.range(0.5, 2) * d.sampleRateHz;
    for (const edge of [at, at + hold]) {
      addBouncing(clicks, {
        atSample: edge,
        strength: dice.range(0.7, 1.4),
        contactSamples: 0.0004 * d.sampleRateHz,
        flightSamples: dice.range(0.004, 0.012) * d.sampleRateHz,
        restitution: dice.range(0.25, 0.5),
      });
    }
    for (let i = Math.floor(at); i < Math.min(d.length, at + hold); i++) on[i] = 1;
    at += hold + dice.range(0.4, 1.8) * d.sampleRateHz;
  }
  return [
    { force: clicks, path: "box", db: 0 },
    { force: coilBuzz(s, on, dice), path: "plastic", db: dice.range(-14, -6) },
  ];
}

/** Worn dogs of the coupling: torque of a single-phase motor swings at twice the line and opens the play. */
function coupling(s: Scene): Layer[] {
  const d = s.drive;
  const dice = s.dice.part("coupling");
  const line = (2 * TWO_PI * s.washer.lineHz) / d.sampleRateHz;
  const three = dice.range(0.2, 0.7);
  const once = dice.range(0.1, 0.5);
  const swing = dice.range(0.3, 0.9);
  const push = row(s, (i) => {
    if (Math.abs(d.motorHz[i]!) < 1) return 0;
    const rotor = TWO_PI * d.motorTurns[i]!;
    const mean =
      d.phase === "wash"
        ? 0.15 + 0.5 * Math.abs(d.agitatorHz[i]!)
        : 0.2 + 0.4 * Math.abs(d.torque[i]!);
    return (
      50 *
      (d.power[i]! * (mean + swing * Math.sin(line * i)) +
        once * Math.cos(rotor) +
        three * Math.cos(3 * rotor + 1) -
        0.2)
    );
  });
  const force = looseMassForce({
    sampleRateHz: d.sampleRateHz,
    push,
    gapM: dice.ratio(0.0003, 0.0015),
    contactSeconds: dice.ratio(0.0007, 0.002),
    restitution: dice.range(0.2, 0.5),
  });
  return [
    { force, path: "motor", db: 0 },
    { force, path: "plastic", db: dice.range(-10, -2) },
  ];
}

export function pumpRun(s: Scene): PumpRun {
  const w = s.washer;
  const { drive } = s;
  return {
    sampleRateHz: drive.sampleRateHz,
    on: drive.pump,
    rotorHz: w.pumpOnMotor ? drive.motorHz : w.lineHz,
    lineHz: w.lineHz,
    vanes: w.vanes,
  };
}

function recirculationRun(s: Scene): PumpRun {
  return { ...pumpRun(s), on: s.drive.recirculation, rotorHz: s.washer.lineHz };
}

function stones(s: Scene, p: PumpRun): Layer[] {
  const dice = s.dice.part("stone");
  const force = stoneForce(p, dice);
  return [
    { force, path: "pump", db: 0 },
    { force, path: "plastic", db: dice.range(-8, 0) },
  ];
}

function wornBush(s: Scene, p: PumpRun): Layer[] {
  const dice = s.dice.part("bush");
  return [
    { force: wornBushForce(p, dice), path: "pump", db: 0 },
    { force: soundPump(p, dice.part("hum"), true), path: "pump", db: dice.range(-6, 2) },
  ];
}

/** Bursts of bubbles and jets, 2–20 a second. */
export function gulps(s: Scene, on: Float32Array, dice: Dice): Float32Array {
  const out = new Float32Array(s.drive.length);
  const rate = dice.range(2, 14);
  let until = 0;
  let level = 0;
  for (let i = 0; i < out.length; i++) {
    if (i >= until) {
      until = i + (s.drive.sampleRateHz / rate) * dice.ratio(0.4, 2);
      level = dice.chance(0.6) ? dice.range(0.4, 1) : dice.range(0, 0.15);
    }
    out[i] = level * on[i]!;
  }
  return out;
}

function airlock(s: Scene): Layer[] {
  const d = s.drive;
  const dice = s.dice.part("airlock");
  const gulp = gulps(s, d.pump, dice);
  const bubbles = bubbleSound(
    { sampleRateHz: d.sampleRateHz, length: d.length, perSecond: 500, radiusM: [0.0004, 0.004] },
    gulp,
    dice,
  );
  return [
    { force: bubbles, path: "pump", db: 0 },
    { force: bubbles, path: "air", db: -3 },
    { force: jetForce(gulp, dice), path: "pipe", db: dice.range(-8, -2) },
    { force: jetForce(gulp, dice), path: "air", db: dice.range(-10, -3) },
  ];
}

/** Rotor that cannot start: it only swings in the field. */
function stalled(s: Scene): Layer[] {
  const dice = s.dice.part("stalled");
  const on = s.drive.pump;
  const w = (TWO_PI * s.washer.lineHz) / s.drive.sampleRateHz;
  const depth = dice.range(0.4, 1.2);
  const force = row(
    s,
    (i) => on[i]! * (Math.sin(2 * w * i + depth * Math.sin(w * i)) + 0.3 * Math.sin(4 * w * i + 1)),
  );
  return [
    { force, path: "pump", db: 0 },
    { force: coilBuzz(s, on, dice), path: "plastic", db: dice.range(-12, -4) },
  ];
}

function valveBuzz(s: Scene): Layer[] {
  const dice = s.dice.part("valve");
  return [
    { force: coilBuzz(s, s.drive.valve, dice), path: "pipe", db: 0 },
    { force: coilBuzz(s, s.drive.valve, dice), path: "panel", db: dice.range(-6, 0) },
  ];
}

function hammer(s: Scene): Layer[] {
  const d = s.drive;
  const force = new Float32Array(d.length);
  const dice = s.dice.part("hammer");
  for (let i = 1; i < d.length; i++) {
    if (d.valve[i]! > 0.5 || d.valve[i - 1]! <= 0.5) continue;
    const one = waterHammer(i, { length: d.length, sampleRateHz: d.sampleRateHz, dice });
    for (let k = i; k < d.length; k++) force[k]! += one[k]!;
  }
  const clamp = row(s, (i) => 40 * force[i]! - 6);
  return [
    { force, path: "pipe", db: 0 },
    {
      force: looseMassForce({
        sampleRateHz: d.sampleRateHz,
        push: clamp,
        gapM: 0.001,
        contactSeconds: 0.001,
        restitution: 0.4,
      }),
      path: "cabinet",
      db: dice.range(-8, 0),
    },
  ];
}

/** Relay that drops out and pulls in again. */
function chatter(s: Scene): Layer[] {
  const d = s.drive;
  const dice = s.dice.part("relay");
  const clicks = new Float32Array(d.length);
  const on = new Float32Array(d.length);
  let at = dice.range(0.1, 1) * d.sampleRateHz;
  let closed = false;
  const rate = dice.ratio(1.5, 11);
  while (at < d.length) {
    addBouncing(clicks, {
      atSample: at,
      strength: dice.range(0.5, 1.3) * (closed ? 0.7 : 1),
      contactSamples: 0.00022 * d.sampleRateHz,
      flightSamples: dice.range(0.0015, 0.005) * d.sampleRateHz,
      restitution: dice.range(0.3, 0.6),
    });
    closed = !closed;
    const next =
      at +
      (d.sampleRateHz / rate) * dice.ratio(0.3, 2) +
      (dice.chance(0.06) ? dice.range(0.5, 2) * d.sampleRateHz : 0);
    if (closed) on.fill(1, Math.floor(at), Math.min(d.length, Math.floor(next)));
    at = next;
  }
  return [
    { force: clicks, path: "box", db: 0 },
    { force: coilBuzz(s, on, dice), path: "box", db: dice.range(-20, -8) },
  ];
}

export const WASHING: Record<string, Variant[]> = {
  "clutch-splines": [
    {
      name: "worn",
      character: "grinding",
      phases: ["spin", "wash"],
      fits: (w) => w.profile === "top-load-belt",
      shapes: ["start"],
      layers: clutchTeeth,
    },
  ],
  "shift-actuator": [
    {
      name: "retrying",
      character: "rattling",
      phases: ["spin"],
      fits: (w) => w.profile === "top-load-belt" || w.profile === "top-load-direct",
      shapes: ["start"],
      wish: { waitSeconds: 8 },
      layers: (s) => actuator(s, { tries: s.dice.part("tries").whole(3, 7), start: 0.5 }),
    },
  ],
  "gear-case": [
    {
      name: "worn",
      character: "grinding",
      phases: ["wash"],
      fits: (w) => w.gear !== null,
      layers: (s) => wornGears(s, { error: 0.9, flank: 0.6, chipped: false }),
    },
    {
      name: "whining",
      character: "whirring",
      phases: ["wash"],
      fits: (w) => w.gear !== null,
      layers: (s) => wornGears(s, { error: 0.15, flank: 1.5, chipped: false }),
    },
    {
      name: "chipped tooth",
      character: "grinding",
      phases: ["wash"],
      fits: (w) => w.gear !== null,
      layers: (s) => wornGears(s, { error: 0.4, flank: 0.5, chipped: true }),
    },
  ],
  "agitator-dogs": [
    {
      name: "worn",
      character: "rattling",
      phases: ["wash"],
      fits: (w) => w.topLoad,
      layers: (s) => {
        const force = ratchetClicks(s, s.dice.part("dogs"), true);
        return [
          { force, path: "plastic", db: 0 },
          { force, path: "tub", db: -8 },
        ];
      },
    },
  ],
  "motor-coupling": [
    {
      name: "worn",
      character: "rattling",
      phases: ["wash", "spin", "drain"],
      fits: (w) => w.profile === "top-load-coupled",
      shapes: ["start", "plateau"],
      layers: coupling,
    },
  ],
  "drain-pump": [
    {
      name: "debris",
      character: "rattling",
      phases: ["drain", "drain", "spin"],
      fits: (w) => !w.pumpOnMotor,
      shapes: ["plateau", "ramp"],
      layers: (s) => stones(s, pumpRun(s)),
    },
    {
      name: "debris",
      character: "rattling",
      phases: ["drain"],
      fits: (w) => w.pumpOnMotor,
      layers: (s) => stones(s, pumpRun(s)),
    },
    {
      name: "worn bush",
      character: "humming",
      phases: ["drain"],
      fits: any,
      layers: (s) => wornBush(s, pumpRun(s)),
    },
    { name: "air", character: "rattling", phases: ["drain"], fits: any, layers: airlock },
    {
      name: "stalled",
      character: "humming",
      phases: ["drain"],
      fits: (w) => !w.pumpOnMotor,
      layers: stalled,
    },
  ],
  "inlet-valve": [
    { name: "buzz", character: "humming", phases: ["fill"], fits: any, layers: valveBuzz },
    {
      name: "hammer",
      character: "thumping",
      phases: ["fill"],
      fits: any,
      wish: { valvePulses: true },
      layers: hammer,
    },
  ],
  controls: [
    {
      name: "relay chatter",
      character: "rattling",
      phases: ["fill", "wash", "drain", "spin"],
      fits: any,
      shapes: ["start", "plateau"],
      layers: chatter,
    },
  ],
  "recirculation-pump": [
    {
      name: "debris",
      character: "rattling",
      phases: ["wash"],
      fits: (w) => w.recirculation,
      layers: (s) => stones(s, recirculationRun(s)),
    },
    {
      name: "worn bush",
      character: "humming",
      phases: ["wash"],
      fits: (w) => w.recirculation,
      layers: (s) => wornBush(s, recirculationRun(s)),
    },
  ],
};
