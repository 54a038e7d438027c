import { ringBalls, touchOncePerTurn, tumbleBlows } from "./contents.js";
import { rubbingForce } from "./friction.js";
import { hertzConstant, looseMassForce } from "./loose-mass.js";
import {
  levelOf,
  row,
  scrapeForce,
  TWO_PI,
  tubOf,
  type Layer,
  type Scene,
  type Variant,
} from "./scene.js";
import type { Washer } from "./washer.js";

const any = () => true;
const frontLoader = (w: Washer) => !w.topLoad;
const oldTopLoader = (w: Washer) => w.pumpOnMotor;

/** Weak dampers: the tub reaches the cabinet while it passes its own frequency, and bounces on. */
function weakSuspension(s: Scene): Layer[] {
  const dice = s.dice.part("suspension");
  const change = {
    damping: dice.range(0.008, 0.04),
    dryMps2: 0.02,
    unbalanceM: dice.range(0.002, 0.005),
    contactSeconds: dice.ratio(0.0014, 0.004),
    restitution: dice.range(0.4, 0.7),
  };
  const free = tubOf(s, { ...change, gapM: 1 });
  // The sagging tub hangs nearer to the cabinet than its widest swing.
  const swing = levelOf(free.handed, 0.999) / Math.pow(TWO_PI * s.washer.bounceHz, 2);
  const tub = tubOf(s, { ...change, gapM: swing * dice.range(0.35, 0.7) });
  const hook = row(s, (i) => 0.6 * tub.strike[i]! + tub.vertical[i]! - 4);
  return [
    { force: tub.strike, path: "cabinet", db: 0 },
    {
      force: looseMassForce({
        sampleRateHz: s.drive.sampleRateHz,
        push: hook,
        gapM: 0.002,
        contactSeconds: 0.0008,
        restitution: 0.5,
      }),
      path: "panel",
      db: dice.range(-16, -5),
    },
  ];
}

/** Heavy one-sided load on sound dampers: rubber stops touched softly, cabinet driven once a turn. */
function unbalanced(s: Scene): Layer[] {
  const dice = s.dice.part("load");
  const change = {
    unbalanceM: dice.range(0.005, 0.012),
    damping: dice.range(0.12, 0.25),
    contactSeconds: dice.ratio(0.006, 0.02),
    restitution: 0.25,
  };
  const free = tubOf(s, { ...change, gapM: 1 });
  const swing = levelOf(free.handed, 0.99) / Math.pow(TWO_PI * s.washer.bounceHz, 2);
  const tub = tubOf(s, { ...change, gapM: swing * dice.range(0.55, 0.85) });
  const feet = row(s, (i) => tub.handed[i]! - 0.4 * levelOf0(tub.handed));
  return [
    { force: tub.strike, path: "cabinet", db: 0 },
    {
      force: looseMassForce({
        sampleRateHz: s.drive.sampleRateHz,
        push: feet,
        gapM: 0.001,
        contactSeconds: 0.006,
        restitution: 0.2,
      }),
      path: "cabinet",
      db: dice.range(-12, -3),
    },
  ];
}

const levels = new WeakMap<Float32Array, number>();
function levelOf0(x: Float32Array): number {
  let level = levels.get(x);
  if (level === undefined) {
    level = levelOf(x, 0.98);
    levels.set(x, level);
  }
  return level;
}

/** One foot off the floor: the force handed down rocks the cabinet over, against its weight. */
function rocking(s: Scene, hard: boolean): Layer[] {
  const dice = s.dice.part("feet");
  const tub = tubOf(s, { unbalanceM: s.washer.unbalanceM * dice.range(1.5, 3) });
  const weight = dice.range(0.2, 0.6) * levelOf(tub.handed, 0.95);
  const push = row(s, (i) => tub.handed[i]! + 0.6 * tub.sideways[i]! - weight);
  const force = looseMassForce({
    sampleRateHz: s.drive.sampleRateHz,
    push,
    gapM: dice.ratio(0.0002, 0.001),
    contactSeconds: hard ? dice.ratio(0.0006, 0.0015) : dice.ratio(0.002, 0.006),
    restitution: dice.range(0.2, 0.5),
  });
  return [
    { force, path: hard ? "panel" : "cabinet", db: 0 },
    { force, path: "cabinet", db: dice.range(-10, -2) },
  ];
}

/** Transport bolts: tub tied to the frame, hammering in the play of the sleeves at every turn. */
function bolted(s: Scene): Layer[] {
  const d = s.drive;
  const dice = s.dice.part("bolts");
  const shake = row(s, (i) => {
    const w = TWO_PI * d.drumHz[i]!;
    return s.washer.unbalanceM * 3 * w * w * Math.sin(TWO_PI * d.drumTurns[i]!);
  });
  const weight = dice.range(0.05, 0.3) * levelOf(shake, 0.9);
  const push = row(s, (i) => shake[i]! - weight);
  const force = looseMassForce({
    sampleRateHz: d.sampleRateHz,
    push,
    gapM: dice.ratio(0.0003, 0.002),
    contactSeconds: dice.ratio(0.0012, 0.004),
    restitution: dice.range(0.1, 0.4),
    stickMps2: 0.1 * levelOf(shake, 0.9),
  });
  return [
    { force, path: "cabinet", db: 0 },
    { force, path: "tub", db: dice.range(-8, 0) },
  ];
}

function counterweight(s: Scene): Layer[] {
  const dice = s.dice.part("block");
  const tub = tubOf(s, { unbalanceM: s.washer.unbalanceM * dice.range(1.5, 4) });
  const mix = dice.range(-0.7, 0.7);
  const seat = dice.range(0.2, 0.65) * levelOf(tub.vertical, 0.9);
  const push = row(s, (i) => tub.vertical[i]! + mix * tub.sideways[i]! - seat);
  const force = looseMassForce({
    sampleRateHz: s.drive.sampleRateHz,
    push,
    gapM: dice.ratio(0.0003, 0.002),
    contactSeconds: dice.ratio(0.001, 0.0035),
    restitution: dice.range(0.05, 0.35),
  });
  return [{ force, path: dice.chance(0.5) ? "tub" : "cabinet", db: 0 }];
}

/** A sheet with a frequency of its own beating against its neighbour where the drive meets that frequency. */
function panel(s: Scene): Layer[] {
  const d = s.drive;
  const dice = s.dice.part("panel");
  const at = Math.floor(dice.range(0.3, 0.8) * d.length);
  const drum = Math.abs(d.drumHz[at]!);
  const motor = Math.abs(d.motorHz[at]!);
  const pumping = d.pump[at]! > 0.5 && !s.washer.pumpOnMotor;
  const own =
    pumping && dice.chance(0.5)
      ? 2 * s.washer.lineHz
      : motor > 60 && motor < 320 && dice.chance(0.6)
        ? motor
        : drum > 3
          ? drum * dice.whole(5, 14)
          : 2 * s.washer.lineHz;
  const hz = own * dice.range(0.985, 1.015);
  const strengths = Array.from({ length: 14 }, (_, k) => dice.range(0.3, 1) / Math.sqrt(k + 1));
  const line = d.phase === "drain" || pumping ? 1 : 0.05;
  const drive = row(s, (i) => {
    const speed = Math.abs(d.drumHz[i]!);
    let a = line * d.pump[i]! * Math.sin((2 * TWO_PI * s.washer.lineHz * i) / d.sampleRateHz);
    if (motor > 5) a += 0.6 * Math.sin(TWO_PI * d.motorTurns[i]!);
    if (speed > 1) {
      const turn = TWO_PI * (d.drumTurns[i]! % 1);
      for (let k = 3; k < 14; k++) a += strengths[k]! * Math.sin((k + 1) * turn + k * k);
    }
    return a;
  });
  const damping = dice.ratio(0.006, 0.025);
  const free = sheet(drive, { hz, damping, gap: Infinity, rate: d.sampleRateHz });
  const force = sheet(drive, {
    hz,
    damping,
    gap: levelOf(free.way, 0.999) * dice.range(0.3, 0.65),
    rate: d.sampleRateHz,
  }).hit;
  return [{ force, path: "panel", db: 0 }];
}

function sheet(
  drive: Float32Array,
  o: { hz: number; damping: number; gap: number; rate: number },
): { way: Float32Array; hit: Float32Array } {
  const w = TWO_PI * o.hz;
  const dt = 1 / o.rate;
  const way = new Float32Array(drive.length);
  const hit = new Float32Array(drive.length);
  const blow = Number.isFinite(o.gap) ? o.gap * w : 1;
  const k = hertzConstant(blow, 0.0006);
  let x = 0;
  let v = 0;
  for (let i = 0; i < drive.length; i++) {
    const deep = x - o.gap;
    const contact = deep > 0 ? Math.max(0, k * deep * Math.sqrt(deep) * (1 + (0.6 / blow) * v)) : 0;
    // A bent sheet stiffens as it moves (cubic spring).
    const a = drive[i]! - w * w * x - 2 * o.damping * w * v - contact;
    v += a * dt;
    x += v * dt;
    way[i] = x;
    hit[i] = contact;
  }
  return { way, hit };
}

function wornRing(s: Scene): Layer[] {
  const dice = s.dice.part("balls");
  const { clacks } = ringBalls(
    s.drive,
    {
      count: dice.whole(4, 9),
      topLoad: s.washer.topLoad,
      bounceHz: s.washer.bounceHz,
      drag: dice.ratio(0.12, 0.8),
      metal: true,
    },
    dice,
  );
  return [{ force: clacks, path: "tub", db: 0 }];
}

function emptyRing(s: Scene): Layer[] {
  const dice = s.dice.part("slug");
  const { pull, clacks } = ringBalls(
    s.drive,
    {
      count: 3,
      topLoad: s.washer.topLoad,
      bounceHz: s.washer.bounceHz,
      drag: dice.range(0.4, 1.5),
      metal: false,
    },
    dice,
  );
  const change = {
    unbalanceM: dice.range(0.003, 0.006),
    damping: dice.range(0.06, 0.12),
    contactSeconds: dice.ratio(0.002, 0.006),
  };
  const free = tubOf(s, { ...change, gapM: 1 });
  const swing = levelOf(free.handed, 0.99) / Math.pow(TWO_PI * s.washer.bounceHz, 2);
  const tub = tubOf(s, { ...change, gapM: swing * dice.range(0.4, 0.8) });
  const thump = row(s, (i) => tub.strike[i]! * (0.4 + Math.abs(pull[i]!)));
  return [
    { force: thump, path: "cabinet", db: 0 },
    { force: clacks, path: "tub", db: dice.range(-12, -4) },
  ];
}

/** Coin or the like falling about in the drum, or caught between drum and tub and dragged along. */
function tumblingCoin(s: Scene): Layer[] {
  const dice = s.dice.part("coin");
  const thing = {
    count: dice.whole(1, 4),
    massKg: dice.ratio(0.002, 0.02),
    radiusM: 0.005,
    stiffnessPa: 8e10,
    restitution: dice.range(0.35, 0.7),
  };
  const force = tumbleBlows(s.drive, s.washer.drumRadiusM, thing, dice);
  return [
    { force, path: "metal", db: 0 },
    { force, path: "tub", db: dice.range(-12, -3) },
  ];
}

function caughtObject(s: Scene): Layer[] {
  const dice = s.dice.part("caught");
  const touch = touchOncePerTurn(s.drive.drumTurns, {
    share: dice.range(0.1, 0.6),
    at: dice.unit(),
    harmonics: dice.range(0, 0.5),
  });
  const scrape = scrapeForce(s, touch, {
    radiusM: s.washer.drumRadiusM,
    grit: dice.range(0.2, 0.6),
  });
  return [
    { force: scrape, path: "panel", db: 0 },
    { force: scrape, path: "metal", db: dice.range(-12, 0) },
  ];
}

/** Loose paddle: its weight swings it over in its fixings once round, until the spin holds it out. */
function paddle(s: Scene): Layer[] {
  const d = s.drive;
  const dice = s.dice.part("paddle");
  const out: Layer[] = [];
  const many = dice.whole(1, 3);
  for (let k = 0; k < many; k++) {
    const at = k / 3;
    const push = row(s, (i) => {
      const w = TWO_PI * d.drumHz[i]!;
      return (
        9.81 * Math.cos(TWO_PI * (d.drumTurns[i]! + at)) +
        0.9 * s.washer.drumRadiusM * w * w * 0.8 -
        2
      );
    });
    const force = looseMassForce({
      sampleRateHz: d.sampleRateHz,
      push,
      gapM: dice.ratio(0.0015, 0.006),
      contactSeconds: dice.ratio(0.0005, 0.0015),
      restitution: dice.range(0.2, 0.5),
      stickMps2: 0.6,
    });
    out.push({ force, path: dice.chance(0.5) ? "plastic" : "tub", db: dice.range(-6, 0) });
  }
  return out;
}

function boot(s: Scene): Layer[] {
  const d = s.drive;
  const dice = s.dice.part("boot");
  const rim = touchOncePerTurn(d.drumTurns, {
    share: dice.range(0.1, 0.45),
    at: dice.unit(),
    harmonics: dice.range(0, 0.5),
  });
  const slideMps = row(s, (i) => TWO_PI * s.washer.drumRadiusM * Math.abs(d.drumHz[i]!));
  const touch = row(s, (i) => (slideMps[i]! < 4 && slideMps[i]! > 0.05 ? rim[i]! : 0));
  const force = rubbingForce({
    sampleRateHz: d.sampleRateHz,
    slideMps,
    touch,
    hz: dice.ratio(350, 2800),
    damping: dice.range(0.004, 0.012),
    staticMu: 1.2,
    kineticMu: 0.4,
    fall: dice.range(0.8, 1.8),
    eagerness: dice.range(6, 14),
  });
  return [
    { force, path: "plastic", db: 0 },
    { force, path: "panel", db: -6 },
  ];
}

function brake(s: Scene): Layer[] {
  const d = s.drive;
  const dice = s.dice.part("brake");
  const ahead = Math.round(0.05 * d.sampleRateHz);
  const slideMps = row(
    s,
    (i) =>
      TWO_PI *
      0.07 *
      Math.abs(
        d.phase === "spin" ? d.motorHz[i]! / s.washer.motorToDrum - d.drumHz[i]! : d.drumHz[i]!,
      ),
  );
  const touch = row(s, (i) => {
    const change = d.drumHz[Math.min(d.length - 1, i + ahead)]! - d.drumHz[i]!;
    return Math.abs(change) > 0.005 && slideMps[i]! > 0.02
      ? 0.75 * (1 + 0.3 * Math.cos(TWO_PI * d.drumTurns[i]!))
      : 0;
  });
  const force = rubbingForce({
    sampleRateHz: d.sampleRateHz,
    slideMps,
    touch,
    hz: dice.ratio(320, 2600),
    damping: dice.range(0.004, 0.01),
    staticMu: 0.8,
    kineticMu: 0.3,
    fall: dice.range(0.8, 1.8),
    eagerness: dice.range(6, 14),
  });
  return [
    { force, path: "cabinet", db: 0 },
    { force, path: "tub", db: 0 },
  ];
}

export const SHAKING: Record<string, Variant[]> = {
  suspension: [
    {
      name: "weak",
      character: "thumping",
      phases: ["spin", "coast"],
      fits: any,
      shapes: ["start"],
      wish: { toRest: true },
      layers: weakSuspension,
    },
  ],
  "unbalanced-load": [
    {
      name: "one-sided",
      character: "thumping",
      phases: ["spin", "coast"],
      fits: any,
      shapes: ["start", "start", "ramp"],
      wish: { toRest: true },
      layers: unbalanced,
    },
  ],
  levelling: [
    {
      name: "rocking",
      character: "thumping",
      phases: ["spin"],
      fits: any,
      shapes: ["plateau", "ramp", "start", "step"],
      layers: (s) => rocking(s, false),
    },
    {
      name: "hard foot",
      character: "rattling",
      phases: ["spin"],
      fits: any,
      shapes: ["plateau", "ramp"],
      layers: (s) => rocking(s, true),
    },
  ],
  "shipping-bolts": [
    {
      name: "left in",
      character: "thumping",
      phases: ["spin", "coast"],
      fits: frontLoader,
      shapes: ["plateau", "ramp", "start", "step"],
      layers: bolted,
    },
  ],
  counterweight: [
    {
      name: "loose",
      character: "thumping",
      phases: ["spin", "coast"],
      fits: frontLoader,
      shapes: ["plateau", "ramp", "step"],
      layers: counterweight,
    },
  ],
  "loose-panel": [
    {
      name: "sheet",
      character: "rattling",
      phases: ["spin"],
      fits: any,
      shapes: ["ramp", "plateau", "step"],
      layers: panel,
    },
    { name: "sheet", character: "rattling", phases: ["coast"], fits: any, layers: panel },
  ],
  "balance-ring": [
    {
      name: "worn balls",
      character: "rattling",
      phases: ["spin", "coast"],
      fits: (w) => w.ballRing,
      shapes: ["start"],
      wish: { toRest: true },
      layers: wornRing,
    },
    {
      name: "fluid lost",
      character: "thumping",
      phases: ["spin"],
      fits: (w) => w.ballRing,
      shapes: ["start"],
      layers: emptyRing,
    },
  ],
  "foreign-object": [
    {
      name: "in the drum",
      character: "rattling",
      phases: ["wash", "hand-spin"],
      fits: frontLoader,
      layers: tumblingCoin,
    },
    {
      name: "between drum and tub",
      character: "grinding",
      phases: ["wash", "hand-spin"],
      fits: frontLoader,
      layers: caughtObject,
    },
    {
      name: "between drum and tub",
      character: "grinding",
      phases: ["spin", "coast"],
      fits: any,
      shapes: ["plateau", "ramp", "start"],
      layers: caughtObject,
    },
  ],
  "drum-lifter": [
    {
      name: "loose",
      character: "rattling",
      phases: ["wash", "hand-spin"],
      fits: frontLoader,
      layers: paddle,
    },
  ],
  "door-boot": [
    {
      name: "dry",
      character: "squealing",
      phases: ["wash", "hand-spin"],
      fits: frontLoader,
      layers: boot,
    },
    {
      name: "dry",
      character: "squealing",
      phases: ["coast"],
      fits: frontLoader,
      wish: { toRest: true },
      layers: boot,
    },
  ],
  "spin-brake": [
    {
      name: "glazed",
      character: "squealing",
      phases: ["coast"],
      fits: oldTopLoader,
      wish: { braked: true },
      layers: brake,
    },
    {
      name: "clutch band",
      character: "squealing",
      phases: ["spin"],
      fits: oldTopLoader,
      shapes: ["start"],
      layers: brake,
    },
  ],
};
