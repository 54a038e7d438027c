import type { Dice } from "./dice.js";
import { clicks, coilHum, cry, loose, shaftBlows } from "./faults-drive.js";
import {
  events,
  gate,
  grows,
  seconds,
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
  times,
  type Mode,
  type Signal,
} from "./sound.js";

/** How hard the gears work: the strokes where the motor runs on, the input's speed elsewhere. */
function effort(scene: Scene, dice: Dice): Signal {
  const { strokes, inputHz } = scene.course;
  if (scene.phase !== "wash" || scene.machine.profile.pumpDrivenBy !== "wash-motor")
    return grows(inputHz, dice.between(0.5, 1.5));
  const out = new Float32Array(scene.length).fill(dice.between(0.05, 0.35));
  for (const { from, to } of strokes) {
    for (let k = Math.ceil(from * scene.rate); k < Math.min(scene.length, to * scene.rate); k++) {
      out[k] = out[k]! + Math.sin((Math.PI * (k / scene.rate - from)) / (to - from)) ** 1.2;
    }
  }
  return out;
}

/** Tooth mesh and its multiples; planets in phase or in turn decide how strong each is. */
function mesh(scene: Scene, falls: readonly [number, number], dice: Dice): Signal {
  const { meshPerInput, reduction, planets } = scene.machine;
  const fall = dice.between(falls[0], falls[1]);
  const side = planets / reduction;
  const rows: [number, number][] = [];
  for (let k = 1; k <= dice.whole(5, 10); k++) {
    const size = dice.between(0.3, 1) * k ** -fall;
    rows.push(
      [k * meshPerInput, size],
      [k * meshPerInput + side, size * dice.between(0, 0.5)],
      [k * meshPerInput - side, size * dice.between(0, 0.5)],
    );
  }
  return levelled(
    times(turnTones(scene, scene.course.inputTurns, rows, dice), effort(scene, dice)),
  );
}

/** Teeth that skip while one shaft overtakes another: the rate falls to nothing as they meet. */
function ratchetDown(
  scene: Scene,
  from: number,
  lasts: number,
  modes: readonly Mode[],
  dice: Dice,
  onto: Signal,
): void {
  const top = dice.spread(40, 160);
  const bow = dice.between(0.7, 1.8);
  let phase = 0;
  for (let k = 0; k < lasts * scene.rate; k++) {
    const left = 1 - k / (lasts * scene.rate);
    phase += (top * left ** bow) / scene.rate;
    if (phase < 1) continue;
    phase -= 1;
    knock(
      onto,
      scene.rate,
      from * scene.rate + k,
      Math.exp(0.3 * dice.bell()) * (0.4 + 0.6 * left),
      modes,
    );
  }
}

/** Moments at which the drive takes hold. */
function starts(scene: Scene, dice: Dice): number[] {
  const { strokes } = scene.course;
  if (strokes.length > 0)
    return strokes.filter(() => dice.chance(0.8)).map(({ from }) => from + 0.02);
  const out: number[] = [];
  for (let t = dice.between(0.1, 1.5); t < seconds(scene) - 1; t += dice.between(0.8, 4))
    out.push(t);
  return out;
}

const clatter = (dice: Dice): Mode[] =>
  drawModes(dice, [500, 5000], dice.whole(3, 5), [0.002, 0.015]);

/** Every second stroke, or pushes one way. */
const oneWay = (scene: Scene, dice: Dice): [number, number][] => {
  const parity = dice.chance(0.5);
  const way = scene.course.strokes.filter(({ forward }) => forward === parity);
  const chosen = way.length > 0 ? way : scene.course.strokes;
  return chosen.map(({ from, to }) => [
    from + 0.1 * (to - from),
    from + dice.between(0.6, 0.95) * (to - from),
  ]);
};

const rattle = "rattling" as const;

export const GEAR_RECIPES: readonly Recipe[] = [
  {
    component: "clutch-splines",
    character: rattle,
    row: "clutch-splines",
    name: "splines skip as the basket catches up",
    make: (scene, dice) => {
      const out = new Float32Array(scene.length);
      const modes = clatter(dice);
      for (const at of starts(scene, dice))
        ratchetDown(
          scene,
          at,
          dice.between(0.2, scene.phase === "wash" ? 0.5 : 2.5),
          modes,
          dice,
          out,
        );
      return out;
    },
  },
  {
    component: "clutch-splines",
    character: "grinding",
    row: "clutch-splines",
    name: "half-engaged teeth grind",
    make: (scene, dice) => {
      const noise = bandNoise(
        scene.length,
        scene.rate,
        [dice.spread(400, 900), dice.spread(3500, 6500)],
        dice,
      );
      const spells = starts(scene, dice).map(
        (at) => [at, at + dice.between(0.3, scene.phase === "wash" ? 0.6 : 2.5)] as const,
      );
      times(times(noise, gate(scene, spells, 0.05)), unsteady(scene, 5, dice, dice.spread(20, 70)));
      const out = new Float32Array(scene.length);
      for (const [at, to] of spells) ratchetDown(scene, at, to - at, clatter(dice), dice, out);
      return add(levelled(noise), levelled(out), dice.between(0.1, 0.7));
    },
  },
  {
    component: "shift-actuator",
    character: rattle,
    row: "shift-actuator",
    name: "click, buzz, click, tried again and again",
    make: (scene, dice) => shifting(scene, dice, dice.between(0.05, 0.4)),
  },
  {
    component: "shift-actuator",
    character: "humming",
    row: "shift-actuator",
    name: "stuck: the small motor hums on between clicks",
    make: (scene, dice) => shifting(scene, dice, dice.between(0.9, 2.5)),
  },
  {
    component: "gear-case",
    character: "grinding",
    row: "gear-case",
    name: "growl: mesh and noise with every stroke",
    make: (scene, dice) => {
      const noise = bandNoise(
        scene.length,
        scene.rate,
        [dice.spread(120, 400), dice.spread(1500, 4000)],
        dice,
      );
      times(times(noise, effort(scene, dice)), unsteady(scene, dice.between(1, 4), dice, 30));
      times(
        noise,
        swing(
          scene.course.inputTurns,
          dice.between(0.1, 0.7),
          dice,
          scene.machine.meshPerInput / dice.whole(4, 12),
        ),
      );
      return add(mesh(scene, [0.2, 1], dice), levelled(noise), dice.between(0.4, 1.4));
    },
  },
  {
    component: "gear-case",
    character: "whirring",
    row: "gear-case",
    name: "whine of the mesh, both ways",
    make: (scene, dice) =>
      add(
        mesh(scene, [0.1, 0.8], dice),
        levelled(
          times(bandNoise(scene.length, scene.rate, [300, 3000], dice), effort(scene, dice)),
        ),
        dice.between(0.05, 0.35),
      ),
  },
  {
    component: "gear-case",
    character: "grinding",
    row: "gear-case",
    name: "chipped tooth: knocks in the growl",
    make: (scene, dice) => {
      const { planets, reduction } = scene.machine;
      const perTurn =
        scene.machine.profile.planetary === null
          ? 1
          : dice.pick([planets * (1 - 1 / reduction), planets / reduction, 1]);
      const chips = times(
        shaftBlows(
          scene,
          scene.course.inputTurns,
          perTurn,
          drawModes(dice, [250, 2500], 4, [0.003, 0.02]),
          dice,
        ),
        effort(scene, dice),
      );
      const noise = times(
        bandNoise(scene.length, scene.rate, [150, 2500], dice),
        effort(scene, dice),
      );
      return add(
        add(mesh(scene, [0.3, 1.2], dice), levelled(noise), dice.between(0.4, 1)),
        levelled(chips),
        dice.between(0.4, 1),
      );
    },
  },
  {
    component: "agitator-dogs",
    character: rattle,
    row: "agitator-dogs",
    name: "ratchet on every second stroke",
    make: (scene, dice) => {
      const out = new Float32Array(scene.length);
      const modes = drawModes(dice, [800, 5000], dice.whole(2, 5), [0.001, 0.01]);
      for (const [from, to] of oneWay(scene, dice)) {
        const rate = dice.spread(8, 30);
        for (let t = from; t < to; t += dice.between(0.85, 1.15) / rate)
          knock(out, scene.rate, t * scene.rate, Math.exp(0.3 * dice.bell()), modes);
      }
      return out;
    },
  },
  {
    component: "agitator-dogs",
    character: rattle,
    row: "agitator-dogs",
    name: "dogs slip and drop in: one to three clacks one way",
    make: (scene, dice) => {
      const out = new Float32Array(scene.length);
      const modes = drawModes(dice, [500, 3500], dice.whole(3, 5), [0.003, 0.025]);
      const count = dice.whole(1, 3);
      for (const [from, to] of oneWay(scene, dice)) {
        for (let k = 0; k < count; k++)
          knock(
            out,
            scene.rate,
            (from + ((to - from) * (k + dice.between(0, 0.4))) / count) * scene.rate,
            Math.exp(0.35 * dice.bell()),
            modes,
          );
      }
      return out;
    },
  },
  {
    component: "motor-coupling",
    character: rattle,
    row: "motor-coupling",
    name: "dogs rattle at one and three a motor turn",
    make: (scene, dice) => {
      const { motorTurns, motorHz } = scene.course;
      const modes = drawModes(dice, [250, 3000], dice.whole(3, 6), [0.002, 0.015]);
      const out = levelled(shaftBlows(scene, motorTurns, 3, modes, dice));
      add(out, levelled(shaftBlows(scene, motorTurns, 1, modes, dice)), dice.between(0.2, 1));
      times(out, unsteady(scene, dice.between(1, 5), dice, 4));
      return times(
        add(out, levelled(atStarts(scene, modes, dice)), dice.between(0, 0.8)),
        motorHz.map((hz) => Math.min(1, hz)),
      );
    },
  },
  {
    component: "motor-coupling",
    character: rattle,
    row: "motor-coupling",
    name: "clack at every change of torque, chatter behind it",
    make: (scene, dice) => {
      const modes = drawModes(dice, [200, 2500], dice.whole(3, 6), [0.005, 0.03]);
      const out = levelled(atStarts(scene, modes, dice));
      const chatter = times(
        shaftBlows(scene, scene.course.motorTurns, dice.pick([1, 3]), modes, dice),
        gate(
          scene,
          starts(scene, dice).map((t) => [t, t + dice.between(0.2, 1)] as const),
          0.05,
        ).map((v) => 0.15 + v),
      );
      return add(out, levelled(chatter), dice.between(0.4, 1));
    },
  },
];

const atStarts = (scene: Scene, modes: readonly Mode[], dice: Dice): Signal => {
  const out = new Float32Array(scene.length);
  for (const at of starts(scene, dice))
    knock(out, scene.rate, at * scene.rate, Math.exp(0.3 * dice.bell()), modes, 0.0005);
  return out;
};

function shifting(scene: Scene, dice: Dice, hum: number): Signal {
  const gap = dice.between(0.8, 3.5);
  const marks: number[] = [];
  const spells: [number, number][] = [];
  for (let t = dice.between(0.1, 1); t < seconds(scene) - 0.3; t += gap * dice.between(0.8, 1.2)) {
    const buzz = Math.min(dice.between(0.3, 0.9) * gap, seconds(scene) - t);
    marks.push(t, t + buzz);
    spells.push([t, t + buzz]);
  }
  const out = levelled(clicks(scene, marks, [900, 6000], dice));
  const buzzing = times(
    dice.chance(0.5)
      ? coilHum(scene, dice)
      : cry(scene, dice.spread(90, 420), gate(scene, [[0, seconds(scene)]]), dice),
    gate(scene, spells),
  );
  add(out, levelled(buzzing), hum);
  if (dice.chance(0.3))
    add(
      out,
      levelled(times(loose(scene, 40, clatter(dice), dice), gate(scene, spells))),
      dice.between(0.2, 0.6),
    );
  return out;
}

/** Clicks of a dual-action agitator, which are as they should be. */
export function designRatchet(scene: Scene, dice: Dice): Signal {
  const out = new Float32Array(scene.length);
  const modes = drawModes(dice, [800, 4000], 3, [0.001, 0.006]);
  const parts = scene.course.strokes
    .filter((_, k) => k % 2 === 0)
    .map(({ from, to }) => [from, to] as const);
  const open = gate(scene, parts);
  for (const at of events(scene.course.inputTurns, dice.between(2, 6)))
    if (open[at]! > 0) knock(out, scene.rate, at, 1, modes);
  return out;
}
