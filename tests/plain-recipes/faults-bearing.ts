import type { Dice } from "./dice.js";
import type { BearingOrders } from "./machine.js";
import { events, grows, swing, turnTones, unsteady, type Recipe, type Scene } from "./scene.js";
import {
  add,
  band,
  bandNoise,
  drawModes,
  knock,
  levelled,
  pinkNoise,
  scaled,
  slope,
  times,
  whiteNoise,
  type Signal,
} from "./sound.js";

/** Which shaft turns inside the bearing. */
interface Shaft {
  turns: Float64Array;
  hz: Signal;
}

const drumShaft = ({ course }: Scene): Shaft => ({ turns: course.drumTurns, hz: course.drumHz });
const motorShaft = ({ course }: Scene): Shaft => ({ turns: course.motorTurns, hz: course.motorHz });

/** Blows on one race: each comes after the last with a slip of its own, so the phase wanders off. */
function ballPass(
  scene: Scene,
  shaft: Shaft,
  order: number,
  modesHz: readonly [number, number],
  dice: Dice,
): Signal {
  const out = new Float32Array(scene.length);
  const modes = drawModes(dice, modesHz, dice.whole(1, 3), [0.0006, 0.005]);
  const jitter = dice.between(0.005, 0.02);
  const drift = 1 + dice.between(-0.015, 0.015);
  const load = dice.between(0, 0.9);
  const uneven = dice.between(0.1, 0.5);
  let next = shaft.turns[0]! + dice.next() / order;
  for (let k = 0; k < scene.length; k++) {
    if (shaft.turns[k]! < next) continue;
    const sector = 1 + load * Math.cos(2 * Math.PI * shaft.turns[k]!);
    knock(out, scene.rate, k, sector * Math.exp(uneven * dice.bell()), modes);
    next += (drift * (1 + jitter * dice.bell())) / order;
  }
  return times(out, grows(shaft.hz, dice.between(0.5, 1.5)));
}

/** Continuous roughness: shaped noise that swells with the turn and the cage. */
function growl(
  scene: Scene,
  shaft: Shaft,
  edges: readonly [number, number],
  depth: number,
  orders: BearingOrders,
  dice: Dice,
): Signal {
  const noise = bandNoise(scene.length, scene.rate, edges, dice);
  times(noise, grows(shaft.hz, dice.between(1, 2.6)));
  times(noise, swing(shaft.turns, depth, dice));
  times(noise, swing(shaft.turns, depth * dice.between(0.1, 0.7), dice, orders.cage));
  return times(noise, unsteady(scene, dice.between(0.3, 2), dice));
}

/** Grit: the noise's own loudness is noise, as of many small grains a second. */
function grit(scene: Scene, shaft: Shaft, edges: readonly [number, number], dice: Dice): Signal {
  const noise = band(whiteNoise(scene.length, dice), scene.rate, edges[0], edges[1]);
  const grain = slope(
    slope(whiteNoise(scene.length, dice), scene.rate, "low", dice.spread(15, 150)),
    scene.rate,
    "low",
    300,
  );
  const sharp = dice.between(1, 3);
  levelled(grain);
  return times(
    times(
      noise,
      grain.map((v) => 0.1 + Math.abs(v) ** sharp),
    ),
    grows(shaft.hz, dice.between(0.7, 2)),
  );
}

const late = {
  component: "drum-bearing",
  character: "grinding",
  row: "drum-bearing(late)",
} as const;
const early = {
  component: "drum-bearing",
  character: "whirring",
  row: "drum-bearing(early)",
} as const;
const motor = { component: "motor-bearing", row: "motor-bearing" } as const;

export const BEARING_RECIPES: readonly Recipe[] = [
  {
    ...early,
    name: "growl that rises with the spin",
    make: (scene, dice) =>
      growl(
        scene,
        drumShaft(scene),
        [dice.spread(300, 800), dice.spread(2500, 7000)],
        dice.between(0.1, 0.4),
        scene.machine.drumBearings[0]!,
        dice,
      ),
  },
  {
    ...early,
    name: "first pit: ball pass over a faint growl",
    make: (scene, dice) => {
      const orders = scene.machine.drumBearings[0]!;
      const body = levelled(
        growl(
          scene,
          drumShaft(scene),
          [dice.spread(400, 900), dice.spread(2500, 6500)],
          dice.between(0.1, 0.4),
          orders,
          dice,
        ),
      );
      const pit = dice.chance(0.6) ? orders.outer : orders.inner;
      return add(
        body,
        levelled(ballPass(scene, drumShaft(scene), pit, [1200, 6500], dice)),
        dice.spread(0.4, 1.6),
      );
    },
  },
  {
    ...late,
    name: "roar, deep swing with the turn and the cage",
    make: (scene, dice) => {
      const [one, two] = scene.machine.drumBearings as [BearingOrders, BearingOrders];
      const shaft = drumShaft(scene);
      const roar = levelled(
        growl(
          scene,
          shaft,
          [dice.spread(120, 350), dice.spread(1800, 5000)],
          dice.between(0.35, 0.9),
          one,
          dice,
        ),
      );
      if (dice.chance(0.5))
        add(
          roar,
          levelled(
            growl(
              scene,
              shaft,
              [dice.spread(200, 700), dice.spread(1500, 4500)],
              dice.between(0.3, 0.9),
              two,
              dice,
            ),
          ),
          dice.between(0.3, 1),
        );
      return roar;
    },
  },
  {
    ...late,
    name: "gritty crunch",
    make: (scene, dice) => {
      const shaft = drumShaft(scene);
      const rough = levelled(
        grit(scene, shaft, [dice.spread(200, 700), dice.spread(2500, 6500)], dice),
      );
      times(rough, swing(shaft.turns, dice.between(0.2, 0.8), dice));
      const crunch = new Float32Array(scene.length);
      const modes = drawModes(dice, [300, 4000], 3, [0.001, 0.012]);
      for (const at of events(shaft.turns, dice.spread(6, 30))) {
        if (dice.chance(0.5))
          knock(
            crunch,
            scene.rate,
            at + dice.between(0, 0.02) * scene.rate,
            dice.next() ** 2,
            modes,
          );
      }
      return add(rough, levelled(crunch), dice.spread(0.1, 0.8));
    },
  },
  {
    ...late,
    name: "two spoiled bearings, ball passes that beat",
    make: (scene, dice) => {
      const shaft = drumShaft(scene);
      const out = levelled(
        growl(
          scene,
          shaft,
          [dice.spread(150, 400), dice.spread(2000, 5000)],
          dice.between(0.3, 0.8),
          scene.machine.drumBearings[1]!,
          dice,
        ),
      );
      for (const orders of scene.machine.drumBearings) {
        add(
          out,
          levelled(
            ballPass(
              scene,
              shaft,
              dice.pick([orders.outer, orders.inner, orders.ball]),
              [400, 4500],
              dice,
            ),
          ),
          dice.spread(0.3, 1.2),
        );
      }
      return out;
    },
  },
  {
    ...motor,
    character: "whirring",
    name: "ball-pass tones of the motor with side lines and hiss",
    make: (scene, dice) => {
      const { outer, inner, cage } = scene.machine.motorBearing;
      const rows: [number, number][] = [];
      const both = dice.between(0.2, 1);
      for (const [order, size] of [
        [outer, 1],
        [inner, both],
      ] as const) {
        for (let k = 1; k <= dice.whole(1, 4); k++) {
          const share = size * dice.between(0.3, 1) * k ** -dice.between(0.3, 1.2);
          rows.push(
            [k * order, share],
            [k * order - 1, share * dice.between(0, 0.6)],
            [k * order + 1, share * dice.between(0, 0.6)],
          );
        }
      }
      const shaft = motorShaft(scene);
      const tones = levelled(turnTones(scene, shaft.turns, rows, dice));
      times(tones, unsteady(scene, dice.between(1, 4), dice, 6));
      times(tones, swing(shaft.turns, dice.between(0, 0.4), dice, cage));
      times(tones, grows(shaft.hz, dice.between(0.5, 1.6)));
      const hiss = bandNoise(
        scene.length,
        scene.rate,
        [dice.spread(1500, 3000), dice.spread(5000, 11_000)],
        dice,
      );
      times(hiss, grows(shaft.hz, dice.between(1, 2)));
      return add(tones, levelled(hiss), dice.spread(0.2, 1.3));
    },
  },
  {
    ...motor,
    character: "squealing",
    name: "dry cage shriek that follows the motor",
    make: (scene, dice) => {
      const shaft = motorShaft(scene);
      const order = dice.spread(6, 14) * (shaft.hz.some((hz) => hz > 100) ? 1 : 4);
      const rows = Array.from(
        { length: dice.whole(2, 5) },
        (_, k) => [(k + 1) * order, dice.between(0.3, 1) / (k + 1)] as const,
      );
      const cry = levelled(turnTones(scene, shaft.turns, rows, dice));
      times(cry, unsteady(scene, dice.between(3, 9), dice, dice.spread(0.5, 6)));
      times(cry, grows(shaft.hz, dice.between(0.3, 1.2)));
      return add(
        cry,
        levelled(
          growl(
            scene,
            shaft,
            [800, 6000],
            dice.between(0.1, 0.6),
            scene.machine.motorBearing,
            dice,
          ),
        ),
        dice.spread(0.1, 0.5),
      );
    },
  },
  {
    ...motor,
    character: "grinding",
    name: "rough motor races",
    make: (scene, dice) => {
      const shaft = motorShaft(scene);
      const orders = scene.machine.motorBearing;
      const out = levelled(
        grit(scene, shaft, [dice.spread(500, 1200), dice.spread(3500, 9000)], dice),
      );
      times(out, swing(shaft.turns, dice.between(0.2, 0.7), dice));
      times(out, swing(shaft.turns, dice.between(0.1, 0.6), dice, orders.cage));
      return add(
        out,
        levelled(
          ballPass(scene, shaft, dice.pick([orders.outer, orders.inner]), [1000, 8000], dice),
        ),
        dice.spread(0.2, 1),
      );
    },
  },
];

/** A faint rumble that every drum has. */
export function soundBearing(scene: Scene, dice: Dice): Signal {
  const shaft = drumShaft(scene);
  return scaled(
    times(
      band(pinkNoise(scene.length, dice), scene.rate, 200, dice.spread(1500, 5000)),
      grows(shaft.hz, dice.between(1, 2.5)),
    ),
    1,
  );
}
