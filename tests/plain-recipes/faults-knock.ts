import type { Dice } from "./dice.js";
import {
  bump,
  events,
  gate,
  grows,
  rain,
  seconds,
  swing,
  type Recipe,
  type Scene,
} from "./scene.js";
import {
  add,
  band,
  bandNoise,
  drawModes,
  knock,
  levelled,
  times,
  wander,
  whiteNoise,
  type Mode,
  type Signal,
} from "./sound.js";

/** How blows are dealt round the turn. */
interface Blows {
  perTurn?: number;
  /** Scatter of the moment, in parts of the interval. */
  jitter?: number;
  /** Spread of the size, natural logarithm. */
  uneven?: number;
  miss?: number;
  softness?: number;
  gain?: Signal;
}

function blows(scene: Scene, modes: readonly Mode[], how: Blows, dice: Dice): Signal {
  const out = new Float32Array(scene.length);
  const { drumTurns, drumHz } = scene.course;
  const perTurn = how.perTurn ?? 1;
  for (const at of events(drumTurns, perTurn, dice.next())) {
    if (dice.chance(how.miss ?? 0)) continue;
    const late =
      ((how.jitter ?? 0.02) * Math.abs(dice.bell()) * scene.rate) /
      Math.max(0.5, drumHz[at]! * perTurn);
    const size = Math.exp((how.uneven ?? 0.2) * dice.bell()) * (how.gain?.[at] ?? 1);
    if (size > 0.01) knock(out, scene.rate, at + late, size, modes, how.softness ?? 0);
  }
  return out;
}

/** Noise that sounds in one sector of the turn. */
function sector(scene: Scene, edges: readonly [number, number], width: number, dice: Dice): Signal {
  const noise = bandNoise(scene.length, scene.rate, edges, dice);
  const { drumTurns, drumHz } = scene.course;
  const from = dice.next();
  for (let k = 0; k < noise.length; k++) {
    const at = drumTurns[k]! + from;
    const x = (at - Math.floor(at)) / width;
    noise[k] = noise[k]! * (drumHz[k]! > 0 && x < 1 ? Math.sin(Math.PI * x) ** 0.7 : 0);
  }
  return noise;
}

/** Blows at the start (and perhaps the end) of every stroke or spell. */
function atReversals(scene: Scene, modes: readonly Mode[], dice: Dice, softness = 0): Signal {
  const out = new Float32Array(scene.length);
  const both = dice.chance(0.4);
  const repeats = dice.whole(1, 3);
  const hit = (t: number, size: number): void => {
    for (let k = 0; k < repeats; k++) {
      knock(
        out,
        scene.rate,
        (t + k * dice.between(0.04, 0.18)) * scene.rate,
        size * 0.6 ** k * Math.exp(0.25 * dice.bell()),
        modes,
        softness,
      );
    }
  };
  for (const stroke of scene.course.strokes) {
    hit(stroke.from + dice.between(0.02, 0.1), 1);
    if (both) hit(stroke.to - dice.between(0.01, 0.1), dice.between(0.3, 0.9));
  }
  return out;
}

/** The tub's own swing: how far it is thrown at this speed, in VA wash by the strokes. */
function throwGain(scene: Scene, dice: Dice): Signal {
  const centre = scene.machine.suspensionRpm / 60;
  return bump(scene.course.drumHz, centre, dice.between(0.35, 0.8));
}

const dull = (dice: Dice): Mode[] => drawModes(dice, [70, 420], dice.whole(2, 5), [0.03, 0.15]);
const clunk = (dice: Dice): Mode[] => drawModes(dice, [100, 900], dice.whole(2, 5), [0.01, 0.08]);
const bright = (dice: Dice): Mode[] =>
  drawModes(dice, [600, 4500], dice.whole(2, 5), [0.003, 0.03]);

/** Knocks by speed: as the law says, or at reversals where the drum stands. */
function turnedOrReversed(
  scene: Scene,
  dice: Dice,
  turned: () => Signal,
  reversed: () => Signal,
): Signal {
  const stands = !scene.course.drumHz.some((hz) => hz > 0);
  if (stands) return reversed();
  const body = levelled(turned());
  return scene.course.strokes.length > 0
    ? add(body, levelled(reversed()), dice.between(0.2, 1))
    : body;
}

const thump = "thumping" as const;

export const KNOCK_RECIPES: readonly Recipe[] = [
  {
    component: "drum-spider",
    character: thump,
    row: "drum-spider",
    name: "thump a turn, scrape where the drum touches",
    make: (scene, dice) => {
      const out = levelled(
        blows(
          scene,
          dull(dice),
          { jitter: 0.02, uneven: 0.2, softness: dice.between(0.0005, 0.004) },
          dice,
        ),
      );
      const scrape = times(
        sector(
          scene,
          [dice.spread(800, 1500), dice.spread(4000, 8000)],
          dice.between(0.1, 0.25),
          dice,
        ),
        grows(scene.course.drumHz, dice.between(0.3, 1.5)),
      );
      return add(out, levelled(scrape), dice.between(0.15, 0.8));
    },
  },
  {
    component: "drum-spider",
    character: thump,
    row: "drum-spider",
    name: "two knocks a turn of a tilting drum",
    make: (scene, dice) => {
      const out = levelled(blows(scene, dull(dice), { uneven: 0.25, softness: 0.001 }, dice));
      add(
        out,
        levelled(blows(scene, clunk(dice), { uneven: 0.4, miss: dice.between(0, 0.3) }, dice)),
        dice.between(0.3, 0.9),
      );
      return add(
        out,
        levelled(sector(scene, [300, 2500], dice.between(0.2, 0.5), dice)),
        dice.between(0, 0.35),
      );
    },
  },
  {
    component: "hub-nut",
    character: thump,
    row: "hub-nut",
    name: "clunk at reversals and starts, rocking knock",
    make: (scene, dice) => {
      const fades = dice.between(3, 9);
      const gain = scene.course.drumHz.map((hz) => 1 / (1 + (hz / fades) ** 2));
      return turnedOrReversed(
        scene,
        dice,
        () => blows(scene, clunk(dice), { uneven: 0.5, miss: dice.between(0, 0.4), gain }, dice),
        () => atReversals(scene, clunk(dice), dice, 0.0008),
      );
    },
  },
  {
    component: "hub-nut",
    character: thump,
    row: "hub-nut",
    name: "heavy knock of a rocking basket",
    make: (scene, dice) =>
      turnedOrReversed(
        scene,
        dice,
        () => blows(scene, dull(dice), { uneven: 0.35, jitter: 0.05, softness: 0.002 }, dice),
        () => atReversals(scene, [...dull(dice), ...clunk(dice)], dice, 0.002),
      ),
  },
  {
    component: "counterweight",
    character: thump,
    row: "counterweight",
    name: "dull knock a turn, at every speed",
    make: (scene, dice) =>
      blows(
        scene,
        drawModes(dice, [80, 600], dice.whole(2, 4), [0.015, 0.08]),
        { uneven: 0.15, jitter: 0.015, softness: dice.between(0.001, 0.003) },
        dice,
      ),
  },
  {
    component: "counterweight",
    character: thump,
    row: "counterweight",
    name: "concrete clonk, out and back",
    make: (scene, dice) => {
      const modes = drawModes(dice, [150, 900], dice.whole(2, 4), [0.008, 0.03]);
      const out = levelled(blows(scene, modes, { uneven: 0.2 }, dice));
      return add(
        out,
        levelled(blows(scene, modes, { uneven: 0.3, miss: 0.2 }, dice)),
        dice.between(0.3, 0.8),
      );
    },
  },
  {
    component: "suspension",
    character: thump,
    row: "suspension",
    habitat: "window",
    name: "tub bangs on the cabinet in its own swing",
    make: (scene, dice) => {
      const modes = drawModes(dice, [60, 500], dice.whole(3, 6), [0.04, 0.2]);
      return turnedOrReversed(
        scene,
        dice,
        () =>
          blows(
            scene,
            modes,
            {
              uneven: 0.35,
              jitter: 0.05,
              miss: dice.between(0, 0.25),
              gain: lowest(throwGain(scene, dice), scene, dice),
            },
            dice,
          ),
        () => atReversals(scene, modes, dice, 0.003),
      );
    },
  },
  {
    component: "suspension",
    character: thump,
    row: "suspension",
    habitat: "window",
    name: "spring that boings with each throw",
    make: (scene, dice) => {
      const spring = drawModes(dice, [140, 900], dice.whole(2, 4), [0.12, 0.45]);
      const modes = [
        ...dull(dice),
        ...spring.map((mode) => ({ ...mode, share: mode.share * 0.4 })),
      ];
      return turnedOrReversed(
        scene,
        dice,
        () =>
          blows(
            scene,
            modes,
            { uneven: 0.4, jitter: 0.06, gain: lowest(throwGain(scene, dice), scene, dice) },
            dice,
          ),
        () => atReversals(scene, modes, dice, 0.002),
      );
    },
  },
  {
    component: "unbalanced-load",
    character: thump,
    row: "unbalanced-load",
    habitat: "window",
    name: "panels driven once a turn, smoothly",
    make: (scene, dice) => {
      const hum = bandNoise(
        scene.length,
        scene.rate,
        [dice.spread(40, 90), dice.spread(180, 400)],
        dice,
      );
      const { drumTurns, drumHz } = scene.course;
      const sharp = dice.between(0.7, 3);
      const pulse = drumTurns.map((turn) => (0.5 + 0.5 * Math.cos(2 * Math.PI * turn)) ** sharp);
      times(hum, pulse);
      times(
        hum,
        throwGain(scene, dice).map((v, k) => 0.15 * Math.min(1, drumHz[k]!) + v),
      );
      return add(
        levelled(hum),
        levelled(
          blows(scene, dull(dice), { uneven: 0.15, softness: dice.between(0.006, 0.02) }, dice),
        ),
        dice.between(0.2, 1),
      );
    },
  },
  {
    component: "unbalanced-load",
    character: thump,
    row: "unbalanced-load",
    habitat: "window",
    name: "heavy clump, soft thump a turn that swells in the swing",
    make: (scene, dice) =>
      blows(
        scene,
        drawModes(dice, [50, 280], dice.whole(3, 6), [0.05, 0.16]),
        {
          uneven: 0.12,
          jitter: 0.02,
          softness: dice.between(0.004, 0.012),
          gain: throwGain(scene, dice).map((v) => 0.15 + v),
        },
        dice,
      ),
  },
  {
    component: "levelling",
    character: thump,
    row: "levelling",
    name: "cabinet rocks: once, twice and half a turn",
    make: (scene, dice) => {
      const near = bump(scene.course.drumHz, dice.spread(8, 22), dice.between(0.7, 1.6)).map(
        (v) => 0.25 + v,
      );
      const out = levelled(
        blows(scene, dull(dice), { uneven: 0.25, softness: 0.003, gain: near }, dice),
      );
      add(
        out,
        levelled(
          blows(
            scene,
            dull(dice),
            { perTurn: dice.chance(0.5) ? 0.5 : 2, uneven: 0.3, softness: 0.003, gain: near },
            dice,
          ),
        ),
        dice.between(0.2, 1),
      );
      return add(
        out,
        levelled(
          blows(
            scene,
            drawModes(dice, [500, 2000], 3, [0.004, 0.02]),
            { uneven: 0.6, jitter: 0.1, miss: 0.3, gain: near },
            dice,
          ),
        ),
        dice.between(0.1, 0.6),
      );
    },
  },
  {
    component: "levelling",
    character: thump,
    row: "levelling",
    name: "feet hammer on the floor, floor booms",
    make: (scene, dice) => {
      const floor = drawModes(dice, [40, 220], dice.whole(2, 4), [0.06, 0.2]);
      const out = levelled(
        blows(
          scene,
          floor,
          { uneven: 0.3, jitter: 0.06, miss: dice.between(0, 0.3), softness: 0.003 },
          dice,
        ),
      );
      return add(
        out,
        levelled(
          blows(scene, bright(dice), { perTurn: 2, uneven: 0.7, jitter: 0.15, miss: 0.4 }, dice),
        ),
        dice.between(0.1, 0.5),
      );
    },
  },
  {
    component: "shipping-bolts",
    character: thump,
    row: "shipping-bolts",
    name: "whole cabinet hammers",
    make: (scene, dice) => {
      const modes = [
        ...dull(dice),
        ...clunk(dice),
        ...drawModes(dice, [800, 4000], 3, [0.004, 0.03]),
      ];
      const out = levelled(blows(scene, modes, { uneven: 0.2, jitter: 0.02 }, dice));
      const shake = bandNoise(scene.length, scene.rate, [60, dice.spread(800, 5000)], dice);
      times(shake, swing(scene.course.drumTurns, dice.between(0.4, 0.95), dice));
      return add(
        out,
        levelled(times(shake, grows(scene.course.drumHz, dice.between(0.5, 1.8)))),
        dice.between(0.2, 0.8),
      );
    },
  },
  {
    component: "shipping-bolts",
    character: thump,
    row: "shipping-bolts",
    name: "rigid tub: knocks at one, two and three a turn",
    make: (scene, dice) => {
      const out = new Float32Array(scene.length);
      for (const perTurn of [1, 2, 3]) {
        add(
          out,
          levelled(
            blows(
              scene,
              [...dull(dice), ...clunk(dice)],
              { perTurn, uneven: 0.2, softness: 0.001 },
              dice,
            ),
          ),
          dice.between(0.3, 1) / perTurn,
        );
      }
      return out;
    },
  },
  {
    component: "balance-ring",
    character: thump,
    row: "balance-ring",
    name: "slosh and thump that beat as the liquid lags",
    make: (scene, dice) => {
      const { drumTurns, drumHz } = scene.course;
      const lag = dice.between(0.02, 0.15);
      const beat = drumTurns.map((turn) => 0.55 + 0.45 * Math.cos(2 * Math.PI * turn * lag));
      const low = bump(drumHz, dice.between(2, 5), dice.between(0.8, 1.6)).map((v) => 0.1 + v);
      const out = levelled(
        blows(
          scene,
          drawModes(dice, [100, 420], dice.whole(2, 4), [0.03, 0.12]),
          { uneven: 0.25, softness: 0.004, gain: low.map((v, k) => v * beat[k]!) },
          dice,
        ),
      );
      const slosh = bandNoise(
        scene.length,
        scene.rate,
        [dice.spread(200, 500), dice.spread(1200, 3500)],
        dice,
      );
      times(times(slosh, swing(drumTurns, dice.between(0.5, 0.95), dice)), low);
      return add(out, levelled(slosh), dice.between(0.3, 1.2));
    },
  },
  {
    component: "balance-ring",
    character: "rattling",
    row: "balance-ring",
    name: "balls clack as they drop from the top of the ring",
    make: (scene, dice) => {
      const modes = drawModes(dice, [900, 4500], dice.whole(2, 4), [0.003, 0.02]);
      const out = new Float32Array(scene.length);
      const { drumHz } = scene.course;
      const low = bump(drumHz, dice.between(1, 3.5), dice.between(0.8, 1.8)).map((v) => 0.05 + v);
      for (let ball = 0; ball < dice.whole(4, 14); ball++) {
        const slipping = 1 - dice.between(0, 0.12);
        add(
          out,
          blows(
            scene,
            modes,
            { perTurn: slipping, uneven: 0.5, jitter: 0.05, miss: 0.2, gain: low },
            dice,
          ),
        );
      }
      return add(
        levelled(out),
        levelled(blows(scene, dull(dice), { uneven: 0.3, softness: 0.004, gain: low }, dice)),
        dice.between(0.1, 0.6),
      );
    },
  },
  {
    component: "foreign-object",
    character: "rattling",
    row: "foreign-object",
    name: "coin or wire pings, a hiss at speed",
    make: (scene, dice) => {
      const { drumHz } = scene.course;
      const modes = drawModes(dice, [2000, 8500], dice.whole(2, 4), [0.008, 0.04]);
      const out = levelled(
        blows(
          scene,
          modes,
          {
            perTurn: dice.pick([1, 1, 2, 3]),
            jitter: dice.between(0.02, 0.25),
            uneven: 0.6,
            miss: dice.between(0.1, 0.35),
          },
          dice,
        ),
      );
      const fast = drumHz.map((hz) => Math.min(1, (hz / 4) ** 2));
      const scrape = times(
        times(bandNoise(scene.length, scene.rate, [1500, 8000], dice), fast),
        swing(scene.course.drumTurns, dice.between(0.3, 0.9), dice),
      );
      return add(out, scrape, dice.between(0.2, 0.8));
    },
  },
  {
    component: "foreign-object",
    character: "grinding",
    row: "foreign-object",
    name: "something drags: scrape in a sector of the turn",
    make: (scene, dice) => {
      const out = levelled(
        sector(
          scene,
          [dice.spread(700, 1800), dice.spread(4500, 9000)],
          dice.between(0.15, 0.7),
          dice,
        ),
      );
      times(
        out,
        wander(scene.length, scene.rate, 25, dice).map((v) => 0.4 + Math.abs(v)),
      );
      const pings = blows(
        scene,
        drawModes(dice, [2500, 7000], 3, [0.006, 0.03]),
        { uneven: 0.7, miss: 0.4, jitter: 0.2 },
        dice,
      );
      return add(levelled(out), levelled(pings), dice.between(0.05, 0.5));
    },
  },
  {
    component: "drum-lifter",
    character: "rattling",
    row: "drum-lifter",
    habitat: "crawl",
    name: "loose paddle claps over at the top",
    make: (scene, dice) =>
      lifter(
        scene,
        dice.pick([1, 1, 2, 3]),
        drawModes(dice, [500, 4000], dice.whole(2, 5), [0.005, 0.035]),
        dice,
      ),
  },
  {
    component: "drum-lifter",
    character: "rattling",
    row: "drum-lifter",
    habitat: "crawl",
    name: "screw in a hollow paddle trickles, then lands",
    make: (scene, dice) => {
      const modes = drawModes(dice, [1200, 5000], 3, [0.002, 0.012]);
      const out = levelled(lifter(scene, 1, modes, dice));
      const { drumTurns, drumHz } = scene.course;
      const trickle = new Float32Array(scene.length);
      const at = dice.next();
      for (const k of rain(scene, dice.between(25, 80), dice)) {
        const x = drumTurns[k]! + at - Math.floor(drumTurns[k]! + at);
        if (x < 0.3 && drumHz[k]! > 0.3 && drumHz[k]! < 1.2)
          knock(trickle, scene.rate, k, dice.next(), modes);
      }
      return add(out, levelled(trickle), dice.between(0.2, 0.8));
    },
  },
];

/** Claps only while gravity beats the turn: below about 60-70 rpm. */
function lifter(scene: Scene, perTurn: number, modes: Mode[], dice: Dice): Signal {
  const leaves = dice.between(60, 72) / 60;
  const gain = scene.course.drumHz.map((hz) =>
    hz < 0.15 ? 0 : 1 / (1 + Math.exp((hz - leaves) * 30)),
  );
  return blows(
    scene,
    modes,
    { perTurn, uneven: 0.35, jitter: 0.05, miss: dice.between(0, 0.25), gain },
    dice,
  );
}

/** In a coast or by hand the swing may not be met: something of the noise is left at every low speed. */
function lowest(gain: Signal, scene: Scene, dice: Dice): Signal {
  const rest = scene.phase === "spin" ? 0.01 : dice.between(0.2, 0.5);
  return gain.map((v) => Math.max(v, rest));
}

/** Laundry that falls at each turn of a slow drum, which is as it should be. */
export function laundryFalls(scene: Scene, dice: Dice): Signal {
  const modes = drawModes(dice, [60, 500], 4, [0.02, 0.08]);
  const gain = scene.course.drumHz.map((hz) => (hz > 0.4 && hz < 1.1 ? 1 : 0));
  const out = levelled(
    blows(
      scene,
      modes,
      {
        perTurn: dice.pick([1, 1, 2]),
        uneven: 0.7,
        jitter: 0.15,
        miss: 0.2,
        softness: dice.between(0.01, 0.03),
        gain,
      },
      dice,
    ),
  );
  const rustle = band(whiteNoise(scene.length, dice), scene.rate, 300, dice.spread(1500, 5000));
  times(times(rustle, gain), swing(scene.course.drumTurns, 0.6, dice));
  return add(out, levelled(rustle), dice.between(0.1, 0.6));
}

/** Soft once-a-turn beat of a load that is merely not perfectly spread. */
export const mildBeat = (scene: Scene, dice: Dice): Signal =>
  blows(
    scene,
    drawModes(dice, [50, 300], 4, [0.05, 0.15]),
    { uneven: 0.15, softness: 0.012 },
    dice,
  );

/** A zip or a button at the drum. */
export function zipRattle(scene: Scene, dice: Dice): Signal {
  const from = dice.between(0, 0.5) * seconds(scene);
  const out = blows(
    scene,
    drawModes(dice, [2000, 7000], 3, [0.003, 0.015]),
    { perTurn: 1, uneven: 0.8, jitter: 0.3, miss: 0.5 },
    dice,
  );
  return times(out, gate(scene, [[from, from + dice.between(2, 8)]], 0.2));
}
