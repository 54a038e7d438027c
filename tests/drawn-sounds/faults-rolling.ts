import { atLevel, blend, type Canvas, type Layer } from "./canvas.js";
import type { Curve } from "./curve.js";
import type { Race } from "./machine.js";
import { band, paintNoise } from "./painted-noise.js";
import { pulse, roughen } from "./rub.js";
import type { Scene } from "./scene.js";
import { strikeAll } from "./struck-body.js";
import { perTurn } from "./timing.js";
import { drawTones, type Partial } from "./tone-stack.js";

/** Loudness that grows with speed as a drawn power of it. */
export function withSpeed(course: Curve, power: number): Curve {
  const most = course.reduce((top, value) => Math.max(top, value), 1e-9);
  return course.map((value) => Math.pow(value / most, power));
}

interface Wear {
  readonly colour: readonly [number, number];
  readonly turnDepth: number;
  readonly cageDepth: number;
  /** How much of the sound is raised at the passing of balls over one damaged place; 0 for rust all over. */
  readonly pitDepth: number;
  readonly roughDb: number;
}

/** Noise of worn races: coloured, swelling with the turn and the cage, and with the balls where a pit is. */
function worn(scene: Scene, turns: Curve, race: Race, level: Curve, wear: Wear): Layer {
  const { canvas } = scene;
  const { dice } = canvas;
  const layer = paintNoise(canvas, [
    {
      colour: band(wear.colour[0], wear.colour[1], dice.between(6, 14)),
      level,
      driftDb: dice.between(0.5, 2),
    },
  ]);
  const slip = dice.between(0.003, 0.02);
  pulse(canvas, layer, turns, { ratio: 1, depth: wear.turnDepth, sharpness: dice.between(1, 4) });
  pulse(canvas, layer, turns, { ratio: race.cage, depth: wear.cageDepth, sharpness: 1, slip });
  if (wear.pitDepth > 0) {
    const ratio = dice.chance(0.6) ? race.outer : race.inner;
    pulse(canvas, layer, turns, {
      ratio,
      depth: wear.pitDepth,
      sharpness: dice.between(3, 14),
      slip,
    });
  }
  return wear.roughDb > 0 ? roughen(canvas, layer, dice.ratio(40, 300), wear.roughDb) : layer;
}

/** A drum bearing that begins to go: a growl far off that rises with the spin. */
export function drumBearingEarly(scene: Scene): Layer {
  const { dice } = scene.canvas;
  const low = dice.ratio(350, 1100);
  return worn(
    scene,
    scene.drumTurns,
    scene.machine.drumRace,
    withSpeed(scene.drumRpm, dice.between(1.2, 2.6)),
    {
      colour: [low, low * dice.between(3, 8)],
      turnDepth: dice.between(0.1, 0.5),
      cageDepth: dice.between(0, 0.3),
      pitDepth: dice.chance(0.45) ? dice.between(0.4, 0.9) : 0,
      roughDb: dice.between(0, 2),
    },
  );
}

/** A drum bearing far gone: a roar with grit in it; at walking speed single balls crunch. */
export function drumBearingLate(scene: Scene): Layer {
  const { canvas, drumTurns, drumRpm, machine } = scene;
  const { dice } = canvas;
  const low = dice.ratio(130, 420);
  const roar = worn(
    scene,
    drumTurns,
    machine.drumRace,
    withSpeed(drumRpm, dice.between(0.6, 1.6)),
    {
      colour: [low, low * dice.between(5, 14)],
      turnDepth: dice.between(0.35, 0.9),
      cageDepth: dice.between(0.1, 0.6),
      pitDepth: dice.chance(0.3) ? dice.between(0.3, 0.8) : 0,
      roughDb: dice.between(2, 6),
    },
  );
  const slow = drumRpm.reduce((top, rpm) => Math.max(top, rpm), 0) < 150;
  if (!slow) return roar;
  const crunch = perTurn(drumTurns, machine.drumRace.outer * dice.between(1, 3), dice, {
    jitterSeconds: 0.04,
    missed: 0.3,
    spread: 0.8,
  });
  const grains = strikeAll(canvas, crunch, [
    ["teeth", 0.6],
    ["tub", 0.5],
  ]);
  return blend(
    canvas,
    atLevel(roar, 0, canvas.rateHz),
    atLevel(grains, dice.between(-6, 6), canvas.rateHz),
  );
}

/** Tones at the ball rates of the motor, with the shaft beside them, and a hiss above. */
export function motorBearing(scene: Scene): Layer {
  const { canvas, motorHz, motorTurns, machine } = scene;
  const { dice, rateHz } = canvas;
  const { outer, inner, cage } = machine.motorRace;
  const slipped = 1 - dice.between(0.002, 0.02);
  const main = dice.chance(0.6) ? outer : inner;
  const partials: Partial[] = [1, 2, 3].flatMap((k) => {
    const level = Math.pow(k, -dice.between(0.5, 1.5));
    const side = level * dice.ratio(0.1, 0.6);
    return [
      { order: k * main * slipped, level },
      { order: k * main * slipped + 1, level: side },
      { order: k * main * slipped - 1, level: side },
    ];
  });
  const gain = withSpeed(motorHz, dice.between(0.6, 1.8));
  const cry = drawTones(canvas, motorHz, partials, { gain, jitter: 0.004, shimmerDb: 4 });
  const low = dice.ratio(1200, 2800);
  const hiss = worn(scene, motorTurns, machine.motorRace, gain, {
    colour: [low, low * dice.between(2, 5)],
    turnDepth: dice.between(0.2, 0.7),
    cageDepth: dice.between(0.1, 0.5),
    pitDepth: dice.chance(0.5) ? dice.between(0.3, 0.8) : 0,
    roughDb: dice.between(0, 3),
  });
  pulse(canvas, hiss, motorTurns, { ratio: cage, depth: 0.3, sharpness: 1 });
  return blend(
    canvas,
    atLevel(cry, dice.between(-9, 3), rateHz),
    atLevel(hiss, dice.between(-8, 3), rateHz),
  );
}

/** Sparks: many tiny clicks at the bars, thick twice a turn of the motor, over a scratch. */
export function motorBrushes(scene: Scene): Layer {
  const { canvas, motorHz, motorTurns, machine, torque } = scene;
  const { dice, rateHz } = canvas;
  const gain = torque.map((share, k) => (0.25 + share) * Math.sqrt(Math.min(1, motorHz[k]! / 150)));
  const low = dice.ratio(1800, 3800);
  const crackle = paintNoise(canvas, [{ colour: band(low, low * 4, 8), level: gain }]);
  roughen(canvas, crackle, dice.ratio(400, 1800), dice.between(5, 9));
  const brushes = dice.one([1, 2, 2]);
  pulse(canvas, crackle, motorTurns, {
    ratio: brushes,
    depth: dice.between(0.4, 0.9),
    sharpness: 3,
  });
  const bars = drawTones(
    canvas,
    motorHz,
    [-2, -1, 0, 1, 2].map((k) => ({
      order: machine.bars + k,
      level: k === 0 ? 1 : dice.ratio(0.15, 0.6),
    })),
    { gain, jitter: 0.003, shimmerDb: 4 },
  );
  return blend(canvas, atLevel(crackle, 0, rateHz), atLevel(bars, dice.between(-14, -1), rateHz));
}

/** Metal that touches once a turn: a scrape over part of it, wandering in length. */
export function scrape(
  scene: Scene,
  canvas: Canvas,
  colour: readonly [number, number],
  depth: number,
): Layer {
  const { dice } = canvas;
  const layer = paintNoise(canvas, [
    {
      colour: band(colour[0], colour[1], dice.between(8, 16)),
      level: withSpeed(scene.drumRpm, dice.between(0.3, 1)),
      driftDb: 3,
    },
  ]);
  roughen(canvas, layer, dice.ratio(80, 500), dice.between(1, 4));
  return pulse(canvas, layer, scene.drumTurns, {
    ratio: 1,
    depth,
    sharpness: dice.between(1.5, 8),
  });
}

/** Rotor and stator of a direct drive that touch: scrape and tick each turn, the magnets' buzz with it. */
export function rotorStator(scene: Scene): Layer {
  const { canvas, machine } = scene;
  const { dice, rateHz } = canvas;
  const agitating = scene.phase === "wash" && !machine.front;
  const turning: Scene = agitating
    ? { ...scene, drumTurns: scene.motorTurns, drumRpm: scene.motorHz.map((hz) => 60 * hz) }
    : scene;
  const low = dice.ratio(900, 2500);
  const rub = scrape(turning, canvas, [low, low * 3], dice.between(0.4, 0.95));
  const ticks = strikeAll(
    canvas,
    perTurn(turning.drumTurns, dice.one([1, 1, 2]), dice, { spread: 0.3 }),
    [
      ["click", 1],
      ["teeth", 0.5],
    ],
  );
  const { poles, slots } = machine;
  const buzz = drawTones(
    canvas,
    turning.drumRpm.map((rpm) => rpm / 60),
    [poles, poles - 1, poles + 1, slots, 3 * poles, slots - 1, slots + 1].map((order) => ({
      order,
      level: dice.ratio(0.15, 1),
    })),
    { gain: withSpeed(turning.drumRpm, 0.5), shimmerDb: 2 },
  );
  return blend(
    canvas,
    atLevel(rub, dice.between(-6, 2), rateHz),
    atLevel(ticks, dice.between(-10, 2), rateHz),
    atLevel(buzz, dice.between(-12, 1), rateHz),
  );
}
