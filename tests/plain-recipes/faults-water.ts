import type { Dice } from "./dice.js";
import { clicks, coilHum, cry, loose } from "./faults-drive.js";
import {
  bump,
  events,
  gate,
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
  band,
  bandNoise,
  drawModes,
  knock,
  levelled,
  scaled,
  slope,
  times,
  wander,
  whiteNoise,
  type Mode,
  type Signal,
} from "./sound.js";

/** Spells in which the drain pump runs: all through the drain, on and off in the spin. */
export function pumpSpells(scene: Scene, dice: Dice): [number, number][] {
  const whole = seconds(scene);
  if (scene.phase !== "spin") {
    const from = dice.chance(0.35) ? dice.between(0.1, 0.25) * whole : 0;
    return [[from, dice.chance(0.25) ? dice.between(0.7, 0.95) * whole : whole + 1]];
  }
  if (dice.chance(0.5)) return [[-1, whole + 1]];
  const out: [number, number][] = [];
  for (let t = dice.between(-3, 2); t < whole; t += dice.between(4, 9))
    out.push([t, t + dice.between(2, 6)]);
  return out.length > 0 ? out : [[0, whole]];
}

/** The pump's turn: locked to the mains, a little behind it, or the wash motor's own. */
export function pumpTurns(scene: Scene): Float64Array {
  const { machine, course, length, rate } = scene;
  if (machine.profile.pumpDrivenBy === "wash-motor" && scene.phase !== "wash")
    return course.motorTurns;
  const hz = machine.lineHz * (1 - machine.pumpSlip);
  return Float64Array.from({ length }, (_, k) => (hz * k) / rate);
}

/** Comb of twice the mains with the vane rate of the rotor on it. */
export function pumpHum(scene: Scene, dice: Dice, highest: number): Signal {
  const { lineHz, pumpVanes, profile } = scene.machine;
  const fall = dice.between(0.2, 1.4);
  if (profile.pumpDrivenBy === "wash-motor" && scene.phase !== "wash") {
    // No coil of its own: rub, run-out and vanes of a rotor on the wash motor's shaft.
    const orders = Array.from(
      { length: highest },
      (_, k) => [k + 1, dice.between(0.2, 1) * (k + 1) ** -fall] as const,
    );
    return levelled(
      turnTones(scene, pumpTurns(scene), [...orders, [pumpVanes, 1], [2 * pumpVanes, 0.5]], dice),
    );
  }
  const rows = Array.from(
    { length: highest },
    (_, k) => [2 * lineHz * (k + 1), dice.between(0.2, 1) * (k + 1) ** -fall] as const,
  );
  const odd = Array.from(
    { length: dice.whole(0, 6) },
    (_, k) => [lineHz * (2 * k + 1), dice.between(0.02, 0.4)] as const,
  );
  const hum = levelled(steadyTones(scene, [...rows, ...odd], dice));
  return add(
    hum,
    levelled(
      turnTones(
        scene,
        pumpTurns(scene),
        [
          [pumpVanes, 1],
          [2 * pumpVanes, 0.4],
        ],
        dice,
      ),
    ),
    dice.between(0, 0.5),
  );
}

/** Bursts of bubbles: noise whose loudness leaps some times a second. */
export function bubbles(
  scene: Scene,
  perSecond: number,
  edges: readonly [number, number],
  dice: Dice,
): Signal {
  const open = new Float32Array(scene.length);
  for (const at of rain(scene, perSecond, dice)) {
    const lasts = dice.spread(0.02, 0.25) * scene.rate;
    const size = Math.exp(0.5 * dice.bell());
    for (let k = at; k < Math.min(scene.length, at + lasts * 4); k++)
      open[k] = open[k]! + size * Math.exp(-(k - at) / lasts);
  }
  return times(bandNoise(scene.length, scene.rate, edges, dice), open);
}

/** Round gulps: short falling or rising tones of bubbles that close. */
export function gulps(scene: Scene, perSecond: number, dice: Dice): Signal {
  const out = new Float32Array(scene.length);
  for (const at of rain(scene, perSecond, dice))
    knock(
      out,
      scene.rate,
      at,
      Math.exp(0.7 * dice.bell()),
      drawModes(dice, [180, 1600], 1, [0.008, 0.05]),
      0.003,
    );
  return out;
}

function sucked(scene: Scene, perTurn: number, modes: readonly Mode[], dice: Dice): Signal {
  const out = new Float32Array(scene.length);
  const turns = pumpTurns(scene);
  const often = dice.between(0.05, 0.6);
  for (const at of events(turns, perTurn, dice.next()))
    if (dice.chance(often))
      knock(
        out,
        scene.rate,
        at + dice.between(0, 0.004) * scene.rate,
        Math.exp(0.6 * dice.bell()),
        modes,
      );
  return out;
}

const inSpells = (x: Signal, scene: Scene, dice: Dice): Signal =>
  times(x, gate(scene, pumpSpells(scene, dice), 0.1));
/** Turned with a finger, emptied, the rotor scrapes as it is turned. */
const byHand = (scene: Scene, modes: readonly Mode[], dice: Dice): Signal => {
  const out = loose(scene, dice.between(4, 14), modes, dice);
  return times(
    out,
    gate(
      scene,
      scene.course.strokes.map(({ from, to }) => [from, to] as const),
      0.1,
    ),
  );
};

const pump = { component: "drain-pump" } as const;
const recirculates = { component: "recirculation-pump", row: "recirculation-pump" } as const;

/** Spell of a pump that sprays while the drum or agitator works. */
const spraying = (x: Signal, scene: Scene, dice: Dice): Signal =>
  times(
    x,
    gate(
      scene,
      [
        [
          dice.chance(0.6) ? -1 : dice.between(0, 3),
          seconds(scene) + (dice.chance(0.6) ? 1 : -dice.between(0, 3)),
        ],
      ],
      0.15,
    ),
  );

/** A pump of its own speed, as brushless ones have. */
function ownSpeed(scene: Scene, dice: Dice): Signal {
  const hz = dice.between(33, 75);
  const poles = dice.pick([2, 3, 4]);
  return steadyTones(
    scene,
    [1, 2, poles, 2 * poles, 4 * poles, 6 * poles].map(
      (k) => [k * hz, dice.between(0.1, 1)] as const,
    ),
    dice,
  );
}

export const WATER_RECIPES: readonly Recipe[] = [
  {
    ...pump,
    character: "rattling",
    row: "drain-pump(debris)",
    name: "something hard hammers in the pump",
    make: (scene, dice) => {
      const modes = drawModes(dice, [500, 6000], dice.whole(3, 5), [0.002, 0.015]);
      if (scene.phase === "hand-spin") return byHand(scene, modes, dice);
      const hits = levelled(
        dice.chance(0.5)
          ? sucked(scene, 1 / dice.pick([1, 2, 3]), modes, dice)
          : loose(scene, dice.spread(5, 35), modes, dice),
      );
      return inSpells(
        add(hits, levelled(pumpHum(scene, dice, 8)), dice.between(0.1, 0.5)),
        scene,
        dice,
      );
    },
  },
  {
    ...pump,
    character: "grinding",
    row: "drain-pump(debris)",
    name: "grit between rotor and housing",
    make: (scene, dice) => {
      const modes = drawModes(dice, [700, 6000], 4, [0.001, 0.006]);
      if (scene.phase === "hand-spin") return byHand(scene, modes, dice);
      const grit = bandNoise(
        scene.length,
        scene.rate,
        [dice.spread(400, 1000), dice.spread(3500, 7500)],
        dice,
      );
      times(
        times(grit, swing(pumpTurns(scene), dice.between(0.3, 0.9), dice)),
        unsteady(scene, dice.between(2, 6), dice, dice.spread(3, 30)),
      );
      return inSpells(
        add(levelled(grit), levelled(sucked(scene, 1, modes, dice)), dice.between(0.2, 0.9)),
        scene,
        dice,
      );
    },
  },
  {
    ...pump,
    character: "humming",
    row: "drain-pump(bearing)",
    name: "worn bush: loud comb of the mains",
    make: (scene, dice) => {
      if (scene.phase === "hand-spin")
        return byHand(scene, drawModes(dice, [150, 1500], 3, [0.004, 0.02]), dice);
      const hum = levelled(pumpHum(scene, dice, dice.whole(6, 16)));
      times(hum, swing(pumpTurns(scene), dice.between(0, 0.5), dice));
      const rub = times(
        bandNoise(scene.length, scene.rate, [300, 2500], dice),
        swing(pumpTurns(scene), dice.between(0.3, 0.9), dice),
      );
      return inSpells(add(hum, levelled(rub), dice.between(0.02, 0.4)), scene, dice);
    },
  },
  {
    ...pump,
    character: "squealing",
    row: "drain-pump(bearing)",
    name: "dry shaft squeals over the hum",
    make: (scene, dice) => {
      const spells: [number, number][] = [];
      for (let t = dice.between(0, 1); t < seconds(scene); t += dice.between(0.1, 2)) {
        const lasts = dice.spread(0.3, 5);
        spells.push([t, t + lasts]);
        t += lasts;
      }
      const open =
        scene.phase === "hand-spin"
          ? scene.course.strokes.map(
              ({ from, to }) => [from, from + 0.5 * (to - from)] as [number, number],
            )
          : spells;
      const squeal = levelled(cry(scene, dice.spread(700, 3500), gate(scene, open, 0.05), dice));
      if (scene.phase === "hand-spin") return squeal;
      return inSpells(
        add(squeal, levelled(pumpHum(scene, dice, 10)), dice.between(0.2, 0.8)),
        scene,
        dice,
      );
    },
  },
  {
    ...pump,
    character: "rattling",
    row: "drain-pump(air)",
    name: "draws air all the while: gurgle and crackle",
    make: (scene, dice) => {
      const air = levelled(
        bubbles(
          scene,
          dice.spread(2, 20),
          [dice.spread(600, 1500), dice.spread(5000, 10_000)],
          dice,
        ),
      );
      add(air, levelled(gulps(scene, dice.spread(8, 40), dice)), dice.between(0.3, 1.2));
      return inSpells(
        add(air, levelled(pumpHum(scene, dice, 6)), dice.between(0.05, 0.4)),
        scene,
        dice,
      );
    },
  },
  {
    ...pump,
    character: "humming",
    row: "drain-pump(air)",
    name: "held fast: hums loud and moves nothing",
    fits: (profile) => profile.pumpDrivenBy === "own-motor",
    make: (scene, dice) =>
      inSpells(
        times(coilHum(scene, dice, dice.whole(2, 8)), unsteady(scene, dice.between(0, 1.5), dice)),
        scene,
        dice,
      ),
  },
  {
    ...recirculates,
    character: "humming",
    name: "spray pump hums through the wash",
    make: (scene, dice) =>
      spraying(
        dice.chance(0.6) ? pumpHum(scene, dice, dice.whole(6, 14)) : ownSpeed(scene, dice),
        scene,
        dice,
      ),
  },
  {
    ...recirculates,
    character: "rattling",
    name: "spray pump has caught something",
    make: (scene, dice) => {
      const modes = drawModes(dice, [500, 6000], 4, [0.002, 0.012]);
      const out = levelled(loose(scene, dice.spread(6, 35), modes, dice));
      return spraying(
        add(
          out,
          levelled(dice.chance(0.5) ? pumpHum(scene, dice, 8) : ownSpeed(scene, dice)),
          dice.between(0.2, 0.7),
        ),
        scene,
        dice,
      );
    },
  },
  {
    component: "inlet-valve",
    character: "humming",
    row: "inlet-valve",
    name: "loose armature buzzes",
    make: (scene, dice) => {
      const buzz = levelled(coilHum(scene, dice, dice.whole(8, 20)));
      const jet = bandNoise(scene.length, scene.rate, [1000, 8000], dice);
      return times(
        add(buzz, levelled(jet), dice.between(0, 0.4)),
        gate(scene, valveSpells(scene, dice), 0.02),
      );
    },
  },
  {
    component: "inlet-valve",
    character: "thumping",
    row: "inlet-valve",
    name: "water hammer at each closing",
    make: (scene, dice) => {
      const out = new Float32Array(scene.length);
      const pipe = drawModes(dice, [30, 260], dice.whole(3, 5), [0.06, 0.25]);
      const rattle = drawModes(dice, [250, 1800], 3, [0.01, 0.06]);
      for (const [, to] of hammerSpells(scene, dice)) {
        const size = Math.exp(0.3 * dice.bell());
        knock(out, scene.rate, to * scene.rate, size, [...pipe, ...rattle], 0.002);
        if (dice.chance(0.5))
          knock(
            out,
            scene.rate,
            (to + dice.between(0.1, 0.4)) * scene.rate,
            0.4 * size,
            pipe,
            0.004,
          );
      }
      return out;
    },
  },
  {
    component: "controls",
    character: "rattling",
    row: "controls",
    name: "relay chatters",
    make: (scene, dice) => {
      const marks: number[] = [];
      const rate = dice.spread(1, 14);
      const even = dice.chance(0.5);
      const bursts = dice.chance(0.5);
      for (
        let t = dice.between(0, 0.5);
        t < seconds(scene);
        t += (even ? dice.between(0.9, 1.1) : -Math.log(1 - dice.next())) / rate
      ) {
        if (!bursts || t % 4 < 2.2) marks.push(t);
      }
      const out = levelled(clicks(scene, marks, [1800, 8000], dice));
      return dice.chance(0.3)
        ? add(out, levelled(coilHum(scene, dice)), dice.between(0.05, 0.25))
        : out;
    },
  },
  {
    component: "controls",
    character: "humming",
    row: "controls",
    name: "choke or transformer buzzes, thin whine of the drive",
    make: (scene, dice) => {
      const carrier = scene.machine.carrierHz ?? dice.between(3500, 9000);
      const hz = carrier < 0.42 * scene.rate ? carrier : carrier / dice.pick([2, 3, 4]);
      const whine = steadyTones(
        scene,
        [
          [hz, 1],
          [hz - 2 * scene.machine.lineHz, dice.between(0.05, 0.5)],
          [hz + 2 * scene.machine.lineHz, dice.between(0.05, 0.5)],
        ],
        dice,
      );
      return add(
        levelled(coilHum(scene, dice, dice.whole(4, 16))),
        levelled(whine),
        dice.between(0.3, 1.5),
      );
    },
  },
  {
    component: "loose-panel",
    character: "rattling",
    row: "loose-panel",
    name: "panel buzzes where its own pitch is met",
    make: (scene, dice) => {
      const hz = dice.spread(80, 600);
      const centre = scene.phase === "drain" ? null : middleSpeed(scene, dice);
      const buzz = Array.from(
        { length: dice.whole(5, 14) },
        (_, k) => [hz * (k + 1), dice.between(0.2, 1) * (k + 1) ** -dice.between(0.2, 1)] as const,
      );
      const out = times(
        levelled(steadyTones(scene, buzz, dice)),
        unsteady(scene, dice.between(2, 6), dice, dice.spread(4, 30)),
      );
      if (centre === null) return inSpells(out, scene, dice);
      times(out, bump(scene.course.drumHz, centre, dice.between(0.08, 0.35)));
      return times(out, swing(scene.course.drumTurns, dice.between(0, 0.9), dice));
    },
  },
  {
    component: "loose-panel",
    character: "rattling",
    row: "loose-panel",
    name: "cover chatters, tinny",
    make: (scene, dice) => {
      const modes = drawModes(dice, [400, 5000], dice.whole(3, 6), [0.002, 0.02]);
      if (scene.phase === "drain")
        return inSpells(sucked(scene, dice.pick([1, 2]), modes, dice), scene, dice);
      const out = loose(scene, dice.spread(20, 90), modes, dice);
      times(out, bump(scene.course.drumHz, middleSpeed(scene, dice), dice.between(0.1, 0.4)));
      return times(out, swing(scene.course.drumTurns, dice.between(0.3, 1), dice));
    },
  },
  {
    component: "door-boot",
    character: "squealing",
    row: "door-boot",
    name: "dry lip squeaks in a sector of the turn",
    make: (scene, dice) => {
      const { drumTurns, drumHz } = scene.course;
      const width = dice.between(0.1, 0.5);
      const at = dice.next();
      const two = dice.chance(0.3) ? 2 : 1;
      const fade = dice.between(1.5, 8);
      const open = Float32Array.from(drumTurns, (turn, k) => {
        const x = (turn * two + at - Math.floor(turn * two + at)) / width;
        return drumHz[k]! > 0.2 && x < 1
          ? Math.sin(Math.PI * x) / (1 + (drumHz[k]! / fade) ** 2)
          : 0;
      });
      return times(cry(scene, dice.spread(300, 2500), open, dice), unsteady(scene, 2, dice, 1));
    },
  },
  {
    component: "door-boot",
    character: "squealing",
    row: "door-boot",
    name: "chirps at the change of way and as the drum slows",
    make: (scene, dice) => {
      const spells = scene.course.strokes.flatMap(
        ({ from, to }) =>
          [
            [from, from + dice.between(0.2, 1.2)],
            [to - dice.between(0.2, 1), to],
          ] as [number, number][],
      );
      const slow = scene.course.drumHz.map((hz) => (hz > 0.05 ? 1 / (1 + (hz / 3) ** 2) : 0));
      const open =
        spells.length > 0
          ? gate(scene, spells, 0.05)
          : times(
              slow,
              swing(scene.course.drumTurns, 0.9, dice).map((v) => Math.max(0, v - 0.8)),
            );
      const rub = times(bandNoise(scene.length, scene.rate, [600, 4000], dice), open);
      return add(
        levelled(
          cry(
            scene,
            dice.spread(350, 2800),
            open.map((v) => Math.min(1, v)),
            dice,
          ),
        ),
        levelled(rub),
        dice.between(0, 0.3),
      );
    },
  },
];

/** A speed that is met in the clip. */
function middleSpeed(scene: Scene, dice: Dice): number {
  const turning = scene.course.drumHz.filter((hz) => hz > 0.3);
  return turning[Math.floor(dice.between(0.25, 0.75) * turning.length)] ?? 1;
}

/** Fill by bursts or all through. */
export function valveSpells(scene: Scene, dice: Dice): [number, number][] {
  const whole = seconds(scene);
  if (dice.chance(0.6))
    return [
      [
        dice.chance(0.5) ? -1 : dice.between(0.2, 2),
        dice.chance(0.6) ? whole + 1 : dice.between(0.7, 0.95) * whole,
      ],
    ];
  return hammerSpells(scene, dice);
}

function hammerSpells(scene: Scene, dice: Dice): [number, number][] {
  const out: [number, number][] = [];
  for (let t = dice.between(-2, 1); t < seconds(scene) - 1; t += dice.between(0.5, 2.5)) {
    const to = Math.min(seconds(scene) - 0.6, t + dice.between(1, 5));
    out.push([t, to]);
    t = to;
  }
  return out;
}

/** Jet of water into a tub: hiss, splash, a little drumming of drops. */
export function waterJet(scene: Scene, dice: Dice): Signal {
  const hiss = levelled(
    bandNoise(scene.length, scene.rate, [dice.spread(400, 1200), dice.spread(5000, 9000)], dice),
  );
  times(
    hiss,
    wander(scene.length, scene.rate, dice.spread(2, 12), dice).map((v) => 10 ** (v * 0.1)),
  );
  return add(hiss, levelled(gulps(scene, dice.spread(10, 60), dice)), dice.between(0.1, 0.9));
}

/** Splashes of a wash, louder with the strokes. */
export function splashes(scene: Scene, dice: Dice): Signal {
  const wash = levelled(
    band(
      whiteNoise(scene.length, dice),
      scene.rate,
      dice.spread(200, 500),
      dice.spread(1500, 5000),
    ),
  );
  const open = slope(
    gate(
      scene,
      scene.course.strokes.map(({ from, to }) => [from, to] as const),
      0.15,
    ),
    scene.rate,
    "low",
    dice.between(1, 5),
  );
  times(
    wash,
    open.map((v) => 0.15 + v),
  );
  times(wash, unsteady(scene, dice.between(2, 6), dice, dice.spread(1, 6)));
  return add(
    scaled(wash, 1),
    levelled(gulps(scene, dice.spread(3, 25), dice)),
    dice.between(0.05, 0.5),
  );
}
