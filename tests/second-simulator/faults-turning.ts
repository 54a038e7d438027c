import { beltForce, beltSlip, damagedBelt } from "./belt.js";
import { touchOncePerTurn } from "./contents.js";
import { rubbingForce } from "./friction.js";
import { addBlow, looseMassForce } from "./loose-mass.js";
import { brushForce, hurtMagnetForce } from "./magnetics.js";
import { cagePerTurn, rollingForce } from "./rolling.js";
import {
  row,
  scrapeForce,
  TWO_PI,
  twistOf,
  type Layer,
  type Scene,
  type Variant,
} from "./scene.js";
import { roughSurface, type Roughness } from "./surface.js";
import type { Washer } from "./washer.js";

const any = () => true;
const frontLoader = (w: Washer) => !w.topLoad;
const outerRotor = (w: Washer) => w.motor.kind === "outer-magnet";

interface Races {
  /** Clearance has opened: nothing but the load itself keeps the balls in contact. */
  slack: boolean;
  inner: Roughness;
  outer: Roughness;
  ballError: number;
}

const smooth: Roughness = {
  finestWaves: 700,
  waviness: 0.4,
  pits: 0,
  pitDepth: 0,
  pitLength: 0.003,
  patchiness: 0.2,
};

/** A drum bearing with given races, loaded by weight or belt, and by what is out of balance. */
function drumBearing(s: Scene, races: Races, which: 0 | 1): Float32Array {
  const d = s.drive;
  const dice = s.dice.part("races");
  return rollingForce(
    {
      sampleRateHz: d.sampleRateHz,
      shaftTurns: d.drumTurns,
      shaftHz: d.drumHz,
      size: s.washer.drumBearings[which],
      inner: roughSurface(dice.part("inner"), races.inner),
      outer: roughSurface(dice.part("outer"), races.outer),
      ballError: races.ballError,
      standingLoad: dice.range(0.3, 1.1),
      turningLoad: races.slack ? dice.ratio(0.2, 1.2) : dice.ratio(0.05, 0.5),
      preload: races.slack ? dice.range(0, 0.15) : dice.range(0.1, 0.6),
      cageSlip: dice.range(0.002, 0.018),
    },
    dice,
  );
}

function earlyBearing(s: Scene): Layer[] {
  const dice = s.dice.part("early");
  const worn: Roughness = {
    ...smooth,
    finestWaves: dice.range(900, 1600),
    patchiness: dice.range(0.2, 0.8),
    pits: dice.whole(0, 2),
    pitDepth: dice.range(1, 4),
  };
  const clean = dice.chance(0.5);
  return [
    {
      force: drumBearing(
        s,
        { slack: false, inner: worn, outer: clean ? smooth : worn, ballError: 0.2 },
        dice.chance(0.5) ? 0 : 1,
      ),
      path: "tub",
      db: 0,
    },
  ];
}

function lateBearing(s: Scene): Layer[] {
  const dice = s.dice.part("late");
  const worn: Roughness = {
    finestWaves: dice.range(1500, 2600),
    waviness: dice.range(0.5, 2),
    pits: dice.whole(8, 40),
    pitDepth: dice.range(4, 12),
    pitLength: dice.ratio(0.002, 0.015),
    patchiness: dice.range(0.5, 1),
  };
  return [
    {
      force: drumBearing(s, { slack: true, inner: worn, outer: worn, ballError: 1.5 }, 1),
      path: "tub",
      db: 0,
    },
    {
      force: drumBearing(
        { ...s, dice: s.dice.part("front") },
        { slack: true, inner: worn, outer: smooth, ballError: 0.5 },
        0,
      ),
      path: "cabinet",
      db: dice.range(-14, -5),
    },
  ];
}

function pittedRace(s: Scene): Layer[] {
  const dice = s.dice.part("pitted");
  const pitted: Roughness = {
    ...smooth,
    finestWaves: 1200,
    pits: dice.whole(1, 2),
    pitDepth: dice.range(25, 60),
    pitLength: dice.ratio(0.002, 0.006),
  };
  const onInner = dice.chance(0.5);
  return [
    {
      force: drumBearing(
        s,
        {
          inner: onInner ? pitted : smooth,
          outer: onInner ? smooth : pitted,
          slack: false,
          ballError: 0.2,
        },
        1,
      ),
      path: "tub",
      db: 0,
    },
  ];
}

/** Cracked arm: the drum falls back and forth in the crack as it turns, until the spin pins it. */
function spider(s: Scene): Layer[] {
  const d = s.drive;
  const dice = s.dice.part("spider");
  const lean = dice.range(0.0015, 0.006);
  const offset = dice.range(-2.5, 2.5);
  const push = row(s, (i) => {
    const w = TWO_PI * d.drumHz[i]!;
    return 9.81 * Math.cos(TWO_PI * d.drumTurns[i]!) + offset + lean * w * w;
  });
  const force = looseMassForce({
    sampleRateHz: d.sampleRateHz,
    push,
    gapM: dice.ratio(0.001, 0.006),
    contactSeconds: dice.ratio(0.0008, 0.003),
    restitution: dice.range(0.1, 0.45),
    stickMps2: 0.4,
  });
  const touch = touchOncePerTurn(d.drumTurns, {
    share: dice.range(0.08, 0.3),
    at: dice.unit(),
    harmonics: dice.range(0, 0.2),
  });
  for (let i = 0; i < touch.length; i++) if (Math.abs(d.drumHz[i]!) < 4) touch[i] = 0;
  return [
    { force, path: "tub", db: 0 },
    {
      force: scrapeForce(s, touch, { radiusM: 0.25, grit: 0.4 }),
      path: "panel",
      db: dice.range(-6, 0),
    },
  ];
}

/** Loose hub: the drive crosses the slack whenever the torque changes sign. */
function hubNut(s: Scene): Layer[] {
  const dice = s.dice.part("hub");
  const twist = twistOf(s);
  const scale = dice.range(25, 60);
  const push = row(s, (i) => scale * twist[i]! + 1.2 * Math.cos(TWO_PI * s.drive.drumTurns[i]!));
  const force = looseMassForce({
    sampleRateHz: s.drive.sampleRateHz,
    push,
    gapM: dice.ratio(0.001, 0.005),
    contactSeconds: dice.ratio(0.0012, 0.004),
    restitution: dice.range(0.15, 0.5),
    stickMps2: 2,
  });
  return [{ force, path: dice.chance(0.5) ? "tub" : "cabinet", db: 0 }];
}

function slippingBelt(s: Scene): Layer[] {
  const d = s.drive;
  const dice = s.dice.part("slip");
  const slip = beltSlip(s.washer, d, dice.range(0.25, 0.45));
  const touch = row(s, (i) =>
    slip[i]! > 0.01 ? 0.75 * (1 + 0.3 * Math.sin(TWO_PI * d.drumTurns[i]!)) : 0,
  );
  const force = rubbingForce({
    sampleRateHz: d.sampleRateHz,
    slideMps: slip,
    touch,
    hz: dice.ratio(550, 3600),
    damping: 0.004,
    staticMu: 0.9,
    kineticMu: 0.3,
    fall: dice.range(0.8, 1.8),
    eagerness: dice.range(6, 14),
  });
  if (!slip.some((v) => v > 0.03)) return [];
  const flap = beltForce(s.washer, d, damagedBelt(dice.part("slap"), "frayed"), dice.part("slap"));
  return [
    { force, path: "motor", db: 0 },
    { force: flap, path: "panel", db: dice.range(-22, -10) },
  ];
}

function hurtBelt(s: Scene): Layer[] {
  const dice = s.dice.part("hurt-belt");
  const kind = dice.chance(0.5) ? "lump" : "frayed";
  return [
    { force: beltForce(s.washer, s.drive, damagedBelt(dice, kind), dice), path: "panel", db: 0 },
    {
      force: beltForce(s.washer, s.drive, damagedBelt(dice, kind), dice),
      path: "motor",
      db: dice.range(-10, -2),
    },
  ];
}

/** Pulley loose on its shaft: pull of the belt stands still, so it works round the bore once a turn. */
function loosePulley(
  s: Scene,
  turns: Float64Array,
  o: { gap: readonly [number, number]; contact: readonly [number, number]; path: Layer["path"] },
): Layer[] {
  const dice = s.dice.part("pulley");
  const d = s.drive;
  const keyed = dice.range(0.2, 0.9);
  const push = row(
    s,
    (i) =>
      30 *
      (Math.cos(TWO_PI * turns[i]!) +
        keyed * d.torque[i]! +
        0.2 * Math.cos(2 * TWO_PI * turns[i]!)),
  );
  const force = looseMassForce({
    sampleRateHz: d.sampleRateHz,
    push,
    gapM: dice.ratio(o.gap[0], o.gap[1]),
    contactSeconds: dice.ratio(o.contact[0], o.contact[1]),
    restitution: dice.range(0.15, 0.5),
    stickMps2: 3,
  });
  return [{ force, path: o.path, db: 0 }];
}

function rubbingPulley(s: Scene): Layer[] {
  const dice = s.dice.part("rub");
  const touch = touchOncePerTurn(s.drive.drumTurns, {
    share: dice.range(0.1, 0.4),
    at: dice.unit(),
    harmonics: dice.range(0, 0.4),
  });
  return [{ force: scrapeForce(s, touch, { radiusM: 0.14, grit: 0.5 }), path: "panel", db: 0 }];
}

function fastest(hz: Float32Array): number {
  let top = 5;
  for (let i = 0; i < hz.length; i += 50) top = Math.max(top, Math.abs(hz[i]!));
  return top;
}

function motorBearingForce(s: Scene, bad: number): Float32Array {
  const d = s.drive;
  const dice = s.dice.part("motor-races");
  const finestWaves = Math.max(40, Math.min(1500, 9000 / fastest(d.motorHz)));
  const worn: Roughness = {
    finestWaves,
    waviness: dice.range(0.4, 1.5),
    pits: dice.whole(0, 6),
    pitDepth: 3 * bad,
    pitLength: dice.ratio(0.004, 0.02),
    patchiness: dice.range(0, 0.6),
  };
  return rollingForce(
    {
      sampleRateHz: d.sampleRateHz,
      shaftTurns: d.motorTurns,
      shaftHz: d.motorHz,
      size: s.washer.motorBearing,
      inner: roughSurface(dice.part("i"), worn),
      outer: roughSurface(dice.part("o"), worn),
      ballError: bad,
      standingLoad: dice.range(0.3, 1),
      turningLoad: dice.ratio(0.0005, 0.004),
      preload: dice.range(0.3, 0.9),
      cageSlip: dice.range(0.003, 0.02),
    },
    dice,
  );
}

function screechingMotorBearing(s: Scene): Layer[] {
  const d = s.drive;
  const dice = s.dice.part("screech");
  const cage = cagePerTurn(s.washer.motorBearing);
  const bore = 0.5e-3 * s.washer.motorBearing.pitchMm;
  const slideMps = row(s, (i) => 0.05 * TWO_PI * bore * Math.abs(d.motorHz[i]!));
  const touch = row(s, (i) =>
    Math.abs(d.motorHz[i]!) > 1
      ? 0.6 * Math.max(0, 0.7 + Math.cos(TWO_PI * cage * d.motorTurns[i]!))
      : 0,
  );
  const force = rubbingForce({
    sampleRateHz: d.sampleRateHz,
    slideMps,
    touch,
    hz: dice.ratio(1300, 4200),
    damping: 0.003,
    staticMu: 0.7,
    kineticMu: 0.15,
    fall: dice.range(0.8, 1.8),
    eagerness: dice.range(6, 14),
  });
  return [
    { force, path: "motor", db: 0 },
    { force: motorBearingForce(s, 1), path: "motor", db: dice.range(-12, -4) },
  ];
}

function brushes(s: Scene): Layer[] {
  const dice = s.dice.part("brushes");
  const force = brushForce(s.washer.motor, s.drive, s.washer.lineHz, {
    dice,
    wear: dice.range(0.8, 1.6),
  });
  return [
    { force, path: "box", db: 0 },
    { force, path: "motor", db: dice.range(-12, -3) },
  ];
}

function rotorRub(s: Scene): Layer[] {
  const dice = s.dice.part("rotor");
  const touch = touchOncePerTurn(s.drive.drumTurns, {
    share: dice.range(0.15, 0.6),
    at: dice.unit(),
    harmonics: dice.range(0, 0.3),
  });
  return [{ force: scrapeForce(s, touch, { radiusM: 0.13, grit: 0.3 }), path: "tub", db: 0 }];
}

function looseMagnet(s: Scene): Layer[] {
  const d = s.drive;
  const dice = s.dice.part("magnet");
  const tick = new Float32Array(d.length);
  let last = Math.floor(d.drumTurns[0]!);
  for (let i = 1; i < d.length; i++) {
    const turn = Math.floor(d.drumTurns[i]!);
    if (turn !== last)
      addBlow(
        tick,
        i,
        dice.ratio(0.5, 1.5) * Math.min(2, 0.3 + Math.abs(d.drumHz[i]!) * 0.1),
        0.0003 * d.sampleRateHz,
      );
    last = turn;
  }
  return [
    { force: tick, path: "tub", db: 0 },
    {
      force: hurtMagnetForce(s.washer.motor, d, { magnet: 0.4, tooth: 0 }, dice),
      path: "tub",
      db: dice.range(-6, 3),
    },
  ];
}

function looseStator(s: Scene): Layer[] {
  const dice = s.dice.part("stator");
  return [
    {
      force: hurtMagnetForce(
        s.washer.motor,
        s.drive,
        { magnet: 0.03, tooth: dice.range(0.4, 0.9) },
        dice,
      ),
      path: "cabinet",
      db: 0,
    },
  ];
}

const beltMachine = (w: Washer) => w.belt;

export const TURNING: Record<string, Variant[]> = {
  "drum-bearing": [
    {
      name: "early wear",
      character: "whirring",
      phases: ["spin", "coast"],
      fits: any,
      shapes: ["plateau", "ramp", "step"],
      layers: earlyBearing,
    },
    {
      name: "late wear",
      character: "grinding",
      phases: ["spin", "coast"],
      fits: any,
      shapes: ["plateau", "ramp", "step"],
      layers: lateBearing,
    },
    {
      name: "late wear",
      character: "grinding",
      phases: ["wash", "hand-spin"],
      fits: frontLoader,
      layers: lateBearing,
    },
    {
      name: "late wear",
      character: "grinding",
      phases: ["hand-spin"],
      fits: (w) => w.topLoad,
      layers: lateBearing,
    },
    {
      name: "pitted race",
      character: "grinding",
      phases: ["spin", "coast"],
      fits: any,
      shapes: ["plateau", "ramp"],
      layers: pittedRace,
    },
  ],
  "drum-spider": [
    {
      name: "cracked arm",
      character: "thumping",
      phases: ["wash", "hand-spin"],
      fits: frontLoader,
      layers: spider,
    },
    {
      name: "cracked arm",
      character: "thumping",
      phases: ["spin"],
      fits: frontLoader,
      shapes: ["start", "plateau"],
      layers: spider,
    },
  ],
  "hub-nut": [
    {
      name: "loose",
      character: "thumping",
      phases: ["wash", "hand-spin", "spin"],
      fits: (w) => w.topLoad || outerRotor(w),
      shapes: ["start"],
      layers: hubNut,
    },
  ],
  "drive-belt": [
    {
      name: "slipping",
      character: "squealing",
      phases: ["spin", "wash"],
      fits: beltMachine,
      shapes: ["start", "step"],
      layers: slippingBelt,
    },
    {
      name: "damaged",
      character: "rattling",
      phases: ["spin", "coast"],
      fits: beltMachine,
      shapes: ["plateau", "ramp"],
      layers: hurtBelt,
    },
    {
      name: "damaged",
      character: "rattling",
      phases: ["wash", "hand-spin"],
      fits: (w) => w.belt && !w.topLoad,
      layers: hurtBelt,
    },
  ],
  "motor-pulley": [
    {
      name: "loose",
      character: "rattling",
      phases: ["wash", "spin", "coast"],
      fits: beltMachine,
      shapes: ["plateau", "ramp", "step"],
      layers: (s) =>
        loosePulley(s, s.drive.motorTurns, {
          gap: [0.00003, 0.0002],
          contact: [0.0003, 0.0009],
          path: "motor",
        }),
    },
  ],
  "drum-pulley": [
    {
      name: "loose",
      character: "thumping",
      phases: ["spin", "coast", "hand-spin"],
      fits: beltMachine,
      shapes: ["plateau", "ramp"],
      layers: (s) =>
        loosePulley(s, s.drive.drumTurns, {
          gap: [0.0003, 0.0015],
          contact: [0.0006, 0.002],
          path: "tub",
        }),
    },
    {
      name: "loose",
      character: "thumping",
      phases: ["wash"],
      fits: (w) => w.belt && !w.topLoad,
      layers: (s) =>
        loosePulley(s, s.drive.drumTurns, {
          gap: [0.0003, 0.0015],
          contact: [0.0006, 0.002],
          path: "tub",
        }),
    },
    {
      name: "rubbing",
      character: "grinding",
      phases: ["spin", "coast", "hand-spin"],
      fits: beltMachine,
      shapes: ["plateau", "ramp"],
      layers: rubbingPulley,
    },
  ],
  "motor-bearing": [
    {
      name: "worn",
      character: "whirring",
      phases: ["spin", "coast", "wash"],
      fits: (w) => !outerRotor(w),
      shapes: ["plateau", "ramp", "step"],
      layers: (s) => [{ force: motorBearingForce(s, 1.2), path: "motor", db: 0 }],
    },
    {
      name: "dry",
      character: "squealing",
      phases: ["spin", "coast"],
      fits: (w) => !outerRotor(w),
      shapes: ["plateau", "ramp"],
      layers: screechingMotorBearing,
    },
  ],
  "motor-brushes": [
    {
      name: "worn",
      character: "rattling",
      phases: ["wash", "spin"],
      fits: (w) => w.motor.kind === "universal",
      shapes: ["plateau", "ramp", "step", "start"],
      layers: brushes,
    },
  ],
  "rotor-stator": [
    {
      name: "rub",
      character: "grinding",
      phases: ["wash", "spin", "coast", "hand-spin"],
      fits: (w) => outerRotor(w) && !w.topLoad,
      shapes: ["plateau", "ramp"],
      layers: rotorRub,
    },
    {
      name: "rub",
      character: "grinding",
      phases: ["spin", "coast"],
      fits: (w) => outerRotor(w) && w.topLoad,
      shapes: ["plateau", "ramp"],
      layers: rotorRub,
    },
    {
      name: "loose magnet",
      character: "rattling",
      phases: ["spin", "coast"],
      fits: outerRotor,
      shapes: ["plateau", "ramp"],
      layers: looseMagnet,
    },
    {
      name: "loose stator",
      character: "humming",
      phases: ["spin"],
      fits: outerRotor,
      shapes: ["plateau", "ramp"],
      layers: looseStator,
    },
  ],
};

/** Bearings of a machine in order. */
export function healthyDrumBearing(s: Scene): Float32Array {
  return drumBearing(s, { slack: false, inner: smooth, outer: smooth, ballError: 0.05 }, 1);
}
export function healthyMotorBearing(s: Scene): Float32Array {
  return motorBearingForce(s, 0.1);
}
