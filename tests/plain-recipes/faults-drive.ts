import type { Dice } from "./dice.js";
import {
  events,
  gate,
  grows,
  rain,
  seconds,
  steadyTones,
  swing,
  turnTones,
  unsteady,
  type Recipe,
  type Scene,
} from "./scene.js";
import {
  add,
  bandNoise,
  drawModes,
  knock,
  levelled,
  scaled,
  times,
  turnSine,
  wander,
  type Mode,
  type Signal,
} from "./sound.js";

const beltTurns = (scene: Scene): Float64Array =>
  scene.course.inputTurns.map((turn) => turn * scene.machine.beltPerInput);

/** Blows dealt by a shaft, so many a turn. */
export function shaftBlows(
  scene: Scene,
  turns: Float64Array,
  perTurn: number,
  modes: readonly Mode[],
  dice: Dice,
): Signal {
  const out = new Float32Array(scene.length);
  const uneven = dice.between(0.1, 0.5);
  const miss = dice.between(0, 0.25);
  for (const at of events(turns, perTurn, dice.next())) {
    if (!dice.chance(miss))
      knock(
        out,
        scene.rate,
        at + dice.between(0, 0.0015) * scene.rate,
        Math.exp(uneven * dice.bell()),
        modes,
      );
  }
  return out;
}

/** Stick-slip cry: a pitch of its own with harmonics, wandering a little, `open` 0..1. */
export function cry(scene: Scene, hz: number, open: Signal, dice: Dice): Signal {
  const wobble = wander(scene.length, scene.rate, dice.spread(2, 15), dice);
  const depth = dice.between(0.005, 0.05);
  const bend = dice.between(-0.08, 0.08);
  const sizes = Array.from(
    { length: dice.whole(3, 6) },
    (_, k) => dice.between(0.3, 1) * (k + 1) ** -dice.between(0.3, 1.3),
  );
  const out = new Float32Array(scene.length);
  let turns = dice.next();
  for (let k = 0; k < out.length; k++) {
    const now = hz * (1 + depth * wobble[k]! + bend * (1 - open[k]!));
    turns += now / scene.rate;
    if (open[k]! <= 0.001) continue;
    let sum = 0;
    for (let h = 0; h < sizes.length; h++)
      if (now * (h + 1) < 0.45 * scene.rate) sum += sizes[h]! * turnSine(turns * (h + 1));
    out[k] = sum * open[k]!;
  }
  return out;
}

/** Where torque is high: starts, strokes, the first seconds of a clip. */
export function torqueSpells(scene: Scene, dice: Dice): [number, number][] {
  const { strokes } = scene.course;
  if (strokes.length > 0) {
    return strokes
      .filter(() => dice.chance(0.85))
      .map(
        ({ from, to }) => [from, from + (to - from) * dice.between(0.2, 0.7)] as [number, number],
      )
      .map(([a, b]) => [a, Math.min(b, a + 2.5)]);
  }
  const spells: [number, number][] = [];
  for (let t = dice.between(0, 2); t < seconds(scene); t += dice.between(1, 6)) {
    const lasts = dice.between(0.4, 4);
    spells.push([t, t + lasts]);
    t += lasts;
  }
  return spells;
}

function ticks(
  scene: Scene,
  turns: Float64Array,
  perTurn: number,
  range: readonly [number, number],
  dice: Dice,
): Signal {
  return shaftBlows(
    scene,
    turns,
    perTurn,
    drawModes(dice, range, dice.whole(2, 5), [0.001, 0.02]),
    dice,
  );
}

/** Slow agitator input gives slow rattles; the motor's own turn otherwise. */
const rattleOf = (scene: Scene, turns: Float64Array, dice: Dice): Signal => {
  const out = levelled(ticks(scene, turns, dice.pick([1, 1, 1 / 2]), [500, 5000], dice));
  const buzz = bandNoise(scene.length, scene.rate, [500, dice.spread(2500, 6000)], dice);
  times(
    times(buzz, swing(turns, dice.between(0.4, 0.95), dice)),
    grows(scene.course.motorHz, dice.between(0.5, 1.5)),
  );
  return add(out, levelled(buzz), dice.between(0.2, 1));
};

const belt = { component: "drive-belt" } as const;
const rattle = "rattling" as const;

export const DRIVE_RECIPES: readonly Recipe[] = [
  {
    ...belt,
    character: "squealing",
    row: "drive-belt(slip)",
    name: "slip squeal under torque",
    make: (scene, dice) =>
      times(
        cry(
          scene,
          dice.spread(600, 2800),
          gate(scene, torqueSpells(scene, dice), dice.between(0.02, 0.15)),
          dice,
        ),
        unsteady(scene, dice.between(0.5, 3), dice, 8),
      ),
  },
  {
    ...belt,
    character: "squealing",
    row: "drive-belt(slip)",
    name: "chirps, one or two a belt turn, of a belt out of line",
    make: (scene, dice) => {
      const turns = beltTurns(scene);
      const perTurn = dice.pick([1, 2]);
      const lasts = dice.between(0.02, 0.12);
      const spells = events(turns, perTurn, dice.next())
        .filter(() => dice.chance(0.9))
        .map((at) => [at / scene.rate, at / scene.rate + lasts * dice.between(0.6, 1.4)] as const);
      const chirps = cry(scene, dice.spread(900, 3800), gate(scene, spells, 0.008), dice);
      return times(chirps, unsteady(scene, 3, dice, 1));
    },
  },
  {
    ...belt,
    character: rattle,
    row: "drive-belt(damage)",
    name: "slap, two blows a belt turn",
    make: (scene, dice) => {
      const modes = drawModes(dice, [200, 2000], dice.whole(3, 5), [0.006, 0.03]);
      const out = levelled(shaftBlows(scene, beltTurns(scene), 1, modes, dice));
      return add(
        out,
        levelled(shaftBlows(scene, beltTurns(scene), 1, modes, dice)),
        dice.between(0.4, 1),
      );
    },
  },
  {
    ...belt,
    character: rattle,
    row: "drive-belt(damage)",
    name: "loose cord ticks, flapping noise between",
    make: (scene, dice) => {
      const turns = beltTurns(scene);
      const out = levelled(ticks(scene, turns, dice.pick([1, 1, 2, 3]), [400, 4500], dice));
      const flap = bandNoise(scene.length, scene.rate, [250, 2500], dice);
      times(
        times(flap, swing(turns, dice.between(0.5, 0.95), dice)),
        grows(scene.course.inputHz, dice.between(0.5, 1.5)),
      );
      return add(out, levelled(flap), dice.between(0.1, 0.7));
    },
  },
  {
    component: "motor-pulley",
    character: rattle,
    row: "motor-pulley",
    name: "rattle with the motor's turn, buzz",
    make: (scene, dice) => rattleOf(scene, scene.course.motorTurns, dice),
  },
  {
    component: "motor-pulley",
    character: rattle,
    row: "motor-pulley",
    name: "bent: high multiples of the motor's turn and belt chirp",
    make: (scene, dice) => {
      const rows = [1, 2, 3, 4, 5, 6].map(
        (k) => [k, dice.between(0.2, 1) * (k > 1 ? 1 : 0.7)] as const,
      );
      const out = levelled(turnTones(scene, scene.course.motorTurns, rows, dice));
      times(out, swing(beltTurns(scene), dice.between(0.2, 0.8), dice));
      times(out, grows(scene.course.motorHz, dice.between(0.3, 1)));
      return add(
        out,
        levelled(ticks(scene, scene.course.motorTurns, 1, [800, 5000], dice)),
        dice.between(0.5, 1.5),
      );
    },
  },
  {
    component: "drum-pulley",
    character: "thumping",
    row: "drum-pulley",
    name: "loose on its seat: knock each turn",
    make: (scene, dice) =>
      shaftBlows(
        scene,
        scene.course.inputTurns,
        1,
        drawModes(dice, [150, 1200], dice.whole(3, 5), [0.01, 0.05]),
        dice,
      ),
  },
  {
    component: "drum-pulley",
    character: rattle,
    row: "drum-pulley",
    name: "out of true: click, rub in a sector, spokes",
    make: (scene, dice) => {
      const turns = scene.course.inputTurns;
      const spokes = dice.whole(3, 6);
      const out = levelled(ticks(scene, turns, 1, [500, 3500], dice));
      const rub = bandNoise(scene.length, scene.rate, [200, dice.spread(1800, 4000)], dice);
      times(
        times(rub, swing(turns, dice.between(0.5, 0.95), dice)),
        swing(turns, dice.between(0.1, 0.6), dice, spokes),
      );
      return add(
        out,
        levelled(times(rub, grows(scene.course.inputHz, 1))),
        dice.between(0.15, 0.8),
      );
    },
  },
  {
    component: "motor-brushes",
    character: rattle,
    row: "motor-brushes",
    name: "crackle of sparks at every turn of the motor",
    make: (scene, dice) => {
      const { motorTurns, motorHz } = scene.course;
      const out = new Float32Array(scene.length);
      const high = Math.min(0.44 * scene.rate, 16_000);
      const modes = drawModes(dice, [2000, high], dice.whole(2, 4), [0.0003, 0.002]);
      for (const at of events(motorTurns, dice.pick([1, 2]), dice.next())) {
        if (dice.chance(0.75))
          knock(
            out,
            scene.rate,
            at + dice.between(0, 0.1) * (scene.rate / Math.max(1, motorHz[at]!)),
            Math.exp(0.8 * dice.bell()),
            modes,
          );
      }
      return add(levelled(out), levelled(barTone(scene, dice)), dice.between(0.05, 0.6));
    },
  },
  {
    component: "motor-brushes",
    character: "grinding",
    row: "motor-brushes",
    name: "scratching brushes: hiss beating with turn and mains",
    make: (scene, dice) => {
      const { motorTurns, motorHz, fed } = scene.course;
      const hiss = bandNoise(
        scene.length,
        scene.rate,
        [dice.spread(1500, 3000), dice.spread(7000, 16_000)],
        dice,
      );
      times(
        times(hiss, swing(motorTurns, dice.between(0.3, 0.95), dice, dice.pick([1, 2]))),
        grows(motorHz, dice.between(0.4, 1.2)),
      );
      const mains = dice.between(0, 0.7);
      const line = 2 * scene.machine.lineHz;
      for (let k = 0; k < hiss.length; k++)
        hiss[k] = hiss[k]! * (1 + fed[k]! * mains * turnSine((line * k) / scene.rate));
      return add(levelled(hiss), levelled(barTone(scene, dice)), dice.between(0.2, 1.2));
    },
  },
  {
    component: "rotor-stator",
    character: "grinding",
    row: "rotor-stator",
    name: "rotor rubs: scrape once a turn",
    make: (scene, dice) => {
      const turns = scene.course.motorTurns;
      const rub = bandNoise(
        scene.length,
        scene.rate,
        [dice.spread(900, 2000), dice.spread(4000, 9000)],
        dice,
      );
      times(
        times(rub, swing(turns, dice.between(0.6, 1.2), dice)),
        grows(scene.course.motorHz, dice.between(0.3, 1.5)),
      );
      return add(levelled(rub), levelled(poleBuzz(scene, dice)), dice.between(0, 0.6));
    },
  },
  {
    component: "rotor-stator",
    character: rattle,
    row: "rotor-stator",
    name: "loose magnet ticks each turn",
    make: (scene, dice) => {
      const turns = scene.course.motorTurns;
      const out = levelled(ticks(scene, turns, 1, [900, 6000], dice));
      return add(out, levelled(poleBuzz(scene, dice)), dice.between(0.1, 0.7));
    },
  },
  {
    component: "rotor-stator",
    character: "humming",
    row: "rotor-stator",
    name: "loose stator buzzes at the magnet orders",
    make: (scene, dice) =>
      times(poleBuzz(scene, dice), swing(scene.course.motorTurns, dice.between(0.3, 0.9), dice)),
  },
  {
    component: "spin-brake",
    character: "squealing",
    row: "spin-brake",
    name: "band squeals while the basket slows or is let go",
    make: (scene, dice) => cry(scene, dice.spread(400, 3000), slowing(scene, dice), dice),
  },
  {
    component: "spin-brake",
    character: "squealing",
    row: "spin-brake",
    name: "groan, swelling and fading with the turn",
    make: (scene, dice) => {
      const open = slowing(scene, dice);
      const groan = cry(
        scene,
        dice.spread(220, 700),
        times(
          open,
          swing(scene.course.drumTurns, dice.between(0.3, 0.9), dice).map((v) => Math.min(1, v)),
        ),
        dice,
      );
      const rub = times(bandNoise(scene.length, scene.rate, [300, 3000], dice), open);
      return add(levelled(groan), levelled(rub), dice.between(0.1, 0.6));
    },
  },
];

/** Spells in which the brake drags: most of a coast, the beginning of a spin. */
function slowing(scene: Scene, dice: Dice): Signal {
  const whole = seconds(scene);
  const spell: [number, number] =
    scene.phase === "spin"
      ? [0, dice.between(0.25, 0.6) * whole]
      : [dice.between(0, 0.1) * whole, whole];
  const { drumHz } = scene.course;
  return gate(scene, [spell], 0.3).map((v, k) => v * Math.min(1, drumHz[k]! / 0.6));
}

/** Commutator bars passing the brushes, with side lines of the motor's turn. */
function barTone(scene: Scene, dice: Dice): Signal {
  const bars = scene.machine.bars;
  const rows = [-2, -1, 0, 1, 2].map(
    (k) => [bars + k, k === 0 ? 1 : dice.between(0.05, 0.6)] as const,
  );
  return times(
    turnTones(scene, scene.course.motorTurns, rows, dice),
    grows(scene.course.motorHz, dice.between(0.2, 1)),
  );
}

/** Magnet and slot orders of a direct drive, uneven round the turn. */
function poleBuzz(scene: Scene, dice: Dice): Signal {
  const { polePairs, slots } = scene.machine;
  const rows: [number, number][] = [];
  for (const order of [2 * polePairs, 4 * polePairs, 6 * polePairs, slots]) {
    const size = dice.between(0.2, 1);
    rows.push(
      [order, size],
      [order - 1, size * dice.between(0.1, 0.8)],
      [order + 1, size * dice.between(0.1, 0.8)],
    );
  }
  return times(
    turnTones(scene, scene.course.motorTurns, rows, dice),
    grows(scene.course.motorHz, dice.between(0.2, 1)),
  );
}

/** Buzz or hum of a coil on the mains. */
export const coilHum = (scene: Scene, dice: Dice, highest = 12): Signal =>
  steadyTones(
    scene,
    Array.from(
      { length: highest },
      (_, k) =>
        [
          2 * scene.machine.lineHz * (k + 1),
          dice.between(0.1, 1) * (k + 1) ** -dice.between(0.3, 1.5),
        ] as const,
    ),
    dice,
  );

/** Small clicks at given seconds. */
export function clicks(
  scene: Scene,
  times_: readonly number[],
  range: readonly [number, number],
  dice: Dice,
): Signal {
  const out = new Float32Array(scene.length);
  const modes = drawModes(dice, range, dice.whole(2, 5), [0.0008, 0.008]);
  for (const t of times_) {
    const size = Math.exp(0.3 * dice.bell());
    knock(out, scene.rate, t * scene.rate, size, modes);
    if (dice.chance(0.4))
      knock(out, scene.rate, (t + dice.between(0.004, 0.03)) * scene.rate, 0.5 * size, modes);
  }
  return out;
}

/** Irregular blows of something loose. */
export function loose(scene: Scene, perSecond: number, modes: readonly Mode[], dice: Dice): Signal {
  const out = new Float32Array(scene.length);
  for (const at of rain(scene, perSecond, dice))
    knock(out, scene.rate, at, Math.exp(0.6 * dice.bell()), modes);
  return scaled(out, 1);
}
