import { atLevel, blend, type Layer } from "./canvas.js";
import { curve, during, map, times, wander, type Curve } from "./curve.js";
import { clicksAndHum } from "./complaints.js";
import { withSpeed } from "./faults-rolling.js";
import { band, paintNoise } from "./painted-noise.js";
import { pulse, roughen } from "./rub.js";
import type { Scene } from "./scene.js";
import { strikeAll } from "./struck-body.js";
import { perTurn, reversals, weighed } from "./timing.js";
import { drawTones, harmonics } from "./tone-stack.js";

/** Stick and slip: a tone of fixed pitch with its harmonics, trembling, while a gate is open. */
export function squeal(scene: Scene, gate: Curve, lowHz: number, highHz: number): Layer {
  const { canvas } = scene;
  const { dice, seconds } = canvas;
  const pitch = dice.ratio(lowHz, highHz);
  const sway = wander(seconds, 0.3, dice);
  const spread = dice.between(0.004, 0.04);
  return drawTones(
    canvas,
    curve(seconds, () => pitch).map((hz, k) => hz * (1 + spread * sway[k]!)),
    harmonics(canvas, dice.whole(3, 7), dice.between(4, 9), 5),
    { gain: gate, jitter: 0.006, shimmerDb: 5 },
  );
}

/** Open where the motor pulls hard: starts, changes of direction, steep climbs. */
function hardPull(scene: Scene): Curve {
  const { canvas, drumRpm, strokes, pushes } = scene;
  const { dice, seconds } = canvas;
  const after = (time: number): [number, number] => [time, time + dice.between(0.15, 0.9)];
  const starts = during(seconds, [...strokes.map((one) => after(one.start)), ...pushes.map(after)]);
  if (scene.phase === "wash") return starts;
  const climbs = drumRpm.map((rpm, k) => rpm - drumRpm[Math.max(0, k - 40)]!);
  const steepest = climbs.reduce((top, value) => Math.max(top, value), 0.01);
  const sway = wander(seconds, 0.25, dice);
  return climbs.map((climb, k) =>
    Math.max(starts[k]!, climb > 0.45 * steepest && sway[k]! > -0.6 ? 1 : 0),
  );
}

export function beltSlip(scene: Scene): Layer {
  const { canvas, drumTurns, machine, drumRpm, motorTurns } = scene;
  const { dice, rateHz } = canvas;
  const cry = squeal(scene, hardPull(scene), 500, 3500);
  const washing = scene.phase === "wash" && !machine.front;
  const turns = washing ? motorTurns.map((turn) => turn / machine.ratio) : drumTurns;
  const level = withSpeed(washing ? scene.motorHz : drumRpm, 0.7);
  const slaps = perTurn(turns, 2 * (machine.beltPerDrum ?? 0.7), dice, {
    jitterSeconds: 0.006,
    spread: 0.3,
  });
  const slap = strikeAll(canvas, weighed(slaps, level), [
    ["rubber", 1],
    ["panel", 0.1],
  ]);
  return blend(canvas, atLevel(cry, 0, rateHz), atLevel(slap, dice.between(-22, -4), rateHz));
}

/** A cord or lump on the belt: it ticks as it meets each pulley, once or twice a turn of the belt. */
export function beltDamage(scene: Scene): Layer {
  const { canvas, drumTurns, machine, motorTurns } = scene;
  const { dice } = canvas;
  const washing = scene.phase === "wash" && !machine.front;
  const turns = washing ? motorTurns.map((turn) => turn / machine.ratio) : drumTurns;
  const ratio = machine.beltPerDrum ?? 0.7;
  const first = perTurn(turns, ratio, dice, { jitterSeconds: 0.003, spread: 0.2, offset: 0.1 });
  const other = dice.between(0.1, 0.9);
  const second = perTurn(turns, ratio, dice, {
    jitterSeconds: 0.003,
    offset: dice.between(0.35, 0.75),
  });
  const blows = [...first, ...second.map((blow) => ({ ...blow, strength: other * blow.strength }))];
  return strikeAll(canvas, blows, [
    ["rubber", 1],
    ["teeth", dice.between(0.1, 0.7)],
    ["panel", dice.between(0.05, 0.3)],
  ]);
}

export function motorPulley(scene: Scene): Layer {
  const { canvas, motorHz, motorTurns } = scene;
  const { dice, rateHz } = canvas;
  const gain = withSpeed(motorHz, 0.6);
  const low = dice.ratio(500, 1300);
  const buzz = paintNoise(canvas, [{ colour: band(low, low * 4, 9), level: gain }]);
  pulse(canvas, buzz, motorTurns, {
    ratio: 1,
    depth: dice.between(0.6, 0.95),
    sharpness: dice.between(2, 8),
  });
  const row = drawTones(canvas, motorHz, harmonics(canvas, 7, 2, 5), { gain, shimmerDb: 3 });
  return blend(canvas, atLevel(buzz, 0, rateHz), atLevel(row, dice.between(-6, 5), rateHz));
}

export function drumPulley(scene: Scene): Layer {
  const { canvas, drumTurns, machine, motorTurns } = scene;
  const { dice, rateHz } = canvas;
  const washing = scene.phase === "wash" && !machine.front;
  const turns = washing ? motorTurns.map((turn) => turn / machine.ratio) : drumTurns;
  const blows = perTurn(turns, 1, dice, { jitterSeconds: 0.003, spread: 0.2 });
  const knock = strikeAll(
    canvas,
    [...blows, ...reversals(scene)],
    [
      ["teeth", 1],
      ["cast", 0.7],
      ["panel", 0.15],
    ],
  );
  const speed = washing ? scene.motorHz : scene.drumRpm;
  const rub = paintNoise(canvas, [{ colour: band(400, 2500, 9), level: withSpeed(speed, 0.5) }]);
  pulse(canvas, rub, turns, { ratio: dice.one([1, 3, 4, 5, 6]), depth: 0.9, sharpness: 2 });
  return blend(canvas, atLevel(knock, 0, rateHz), atLevel(rub, dice.between(-18, -3), rateHz));
}

/** Worn splines: a clatter that slows down as the basket catches up with the pulley. */
export function clutchSplines(scene: Scene): Layer {
  const { canvas, drumRpm, machine } = scene;
  const { dice, seconds } = canvas;
  const first = drumRpm.findIndex((rpm) => rpm > 3) / 200;
  const begin =
    scene.phase === "spin" && first > 0.05 ? [first] : [dice.between(0.2, 0.3 * seconds)];
  if (scene.phase === "spin" && dice.chance(0.5)) begin.push(begin[0]! + dice.between(1.5, 6));
  if (scene.phase !== "spin") begin.push(...scene.strokes.map((s) => s.start), ...scene.pushes);
  const teeth = dice.whole(8, 28);
  const pulleyHz = scene.phase === "spin" ? machine.topSpinRpm / 60 : dice.between(1, 3);
  const blows = begin
    .filter((time) => time >= 0)
    .flatMap((start) => {
      const lasting = dice.between(0.3, scene.phase === "spin" ? 3 : 0.6);
      const found = [];
      for (let time = 0; time < lasting;) {
        found.push({ timeSeconds: start + time, strength: dice.ratio(0.4, 1.3) });
        const lag = pulleyHz * dice.between(0.25, 0.4) * (1 - time / lasting) + 0.3;
        time += dice.between(0.8, 1.2) / (teeth * lag);
      }
      return found;
    });
  return strikeAll(
    canvas,
    blows,
    [
      ["teeth", 1],
      ["shell", 0.2],
      ["tub", 0.2],
    ],
    0.8,
  );
}

export const shiftActuator = (scene: Scene): Layer =>
  clicksAndHum(scene, scene.canvas.dice.whole(3, 8));

/** Worn gears: the mesh and its harmonics swell with each stroke, sidebands of the carrier beside them. */
export function gearCase(scene: Scene): Layer {
  const { canvas, machine } = scene;
  const { dice, rateHz } = canvas;
  const washing = scene.phase === "wash";
  const input = washing ? scene.inputHz : map(scene.drumRpm, (rpm) => rpm / 60);
  const turns = washing ? scene.inputTurns : scene.drumTurns;
  const gain = times(
    withSpeed(input, dice.between(0.5, 1.5)),
    curve(canvas.seconds, () => 1),
  );
  const partials = Array.from(
    { length: dice.whole(5, 10) },
    (_, k) => (k + 1) * machine.meshPerInput,
  ).flatMap((order) => {
    const level = dice.ratio(0.2, 1);
    const side = level * dice.ratio(0.1, 0.7);
    const away = machine.carrierPerInput * dice.one([1, 4]);
    return [
      { order, level },
      { order: order + away, level: side },
      { order: order - away, level: side * dice.ratio(0.4, 2) },
    ];
  });
  const growl = drawTones(canvas, input, partials, { gain, jitter: 0.004, shimmerDb: 4 });
  const rough = paintNoise(canvas, [{ colour: band(200, dice.ratio(900, 2800), 8), level: gain }]);
  pulse(canvas, rough, turns, { ratio: machine.meshPerInput, depth: 0.7, sharpness: 2 });
  roughen(canvas, rough, 60, 2);
  const chipped = perTurn(turns, 1, dice, { spread: 0.3 });
  const ticks = strikeAll(canvas, chipped, [["teeth", 1]]);
  return blend(
    canvas,
    atLevel(growl, 0, rateHz),
    atLevel(rough, dice.between(-10, 2), rateHz),
    atLevel(ticks, dice.chance(0.3) ? 0 : -30, rateHz),
  );
}

/** Dogs that slip one way: a run of clicks in every second stroke. */
export function agitatorDogs(scene: Scene): Layer {
  const { canvas, strokes, pushes } = scene;
  const { dice } = canvas;
  const spans = [
    ...strokes.filter((one) => one.direction > 0).map(({ start, end }) => [start, end] as const),
    ...pushes.map((time) => [time, time + 0.7] as const),
  ];
  const per = dice.between(7, 24);
  const blows = spans.flatMap(([start, end]) => {
    const found = [];
    for (
      let time = start + dice.between(0, 0.1);
      time < end;
      time += dice.between(0.7, 1.4) / per
    ) {
      found.push({ timeSeconds: time, strength: dice.ratio(0.5, 1.5) });
    }
    return found;
  });
  return strikeAll(canvas, blows, [
    ["click", 1],
    ["teeth", 0.6],
    ["rubber", 0.3],
  ]);
}

/** A worn three-dog coupling: rattle thrice a motor turn, uneven, and a clack where the pull changes. */
export function motorCoupling(scene: Scene): Layer {
  const { canvas, motorTurns } = scene;
  const { dice } = canvas;
  const strong = perTurn(motorTurns, 1, dice, { jitterSeconds: 0.002, spread: 0.35 });
  const weak = perTurn(motorTurns, 3, dice, { jitterSeconds: 0.003, spread: 0.5, missed: 0.15 });
  const clacks = reversals(scene).map((blow) => ({ ...blow, strength: 2.5 * blow.strength }));
  return strikeAll(
    canvas,
    [...strong, ...weak, ...clacks],
    [
      ["teeth", 0.6],
      ["rubber", 1],
      ["tub", 0.2],
    ],
  );
}

/** A brake or a seal that sticks and slips while the drum slows or starts. */
export function spinBrake(scene: Scene): Layer {
  const { canvas, drumRpm } = scene;
  const fall = drumRpm.map((rpm, k) => rpm - drumRpm[Math.min(drumRpm.length - 1, k + 40)]!);
  const gate = fall.map((value, k) => (Math.abs(value) > 1 && drumRpm[k]! > 5 ? 1 : 0));
  const level = times(
    gate,
    withSpeed(
      drumRpm.map((rpm) => rpm + 30),
      0.4,
    ),
  );
  const some =
    scene.phase === "wash"
      ? during(
          canvas.seconds,
          scene.strokes.map((s) => [s.end - 0.2, s.end + 0.1]),
        )
      : level;
  return squeal(scene, some, 300, 3000);
}
