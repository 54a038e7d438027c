import { atLevel, blend, type Layer } from "./canvas.js";
import { curve, during, times, wander, type Curve } from "./curve.js";
import { hum } from "./electric-sounds.js";
import { band, paintNoise } from "./painted-noise.js";
import type { Scene } from "./scene.js";
import { strike, type Body } from "./struck-body.js";
import { atRandom, weighed } from "./timing.js";
import { drawTones } from "./tone-stack.js";

/** A jet into the drum: hiss that leans on a band, and what splashes below it. */
export function jet(scene: Scene, on: Curve): Layer {
  const { canvas } = scene;
  const { dice } = canvas;
  const low = dice.ratio(500, 1600);
  return paintNoise(canvas, [
    { colour: band(low, low * dice.ratio(2.5, 8), dice.between(6, 14)), level: on, driftDb: 1.5 },
    { colour: band(180, 700, 8), level: on.map((value) => value * 0.7), driftDb: 3 },
  ]);
}

/** Bubbles: short drops of tone that rise as they shrink, thick or thin in number. */
export function bubbles(scene: Scene, perSecond: number, on: Curve): Layer {
  const { canvas } = scene;
  const { dice, seconds } = canvas;
  // Each size of bubble is a body with one mode; a few sizes make a gurgle.
  const sizes: Body[] = Array.from({ length: 7 }, () => [
    { hz: dice.ratio(180, 1900), decaySeconds: dice.ratio(0.008, 0.05), level: 1 },
  ]);
  const rate = perSecond / sizes.length;
  const layers = sizes.map((size) =>
    strike(canvas, weighed(atRandom(seconds, rate, dice, 0.8), on), size, 0.05),
  );
  return blend(canvas, ...layers);
}

/** Snore of a pump that draws air: gulps of crackle between short clear runs. */
export function snore(scene: Scene, on: Curve): Layer {
  const { canvas } = scene;
  const { dice, seconds, rateHz } = canvas;
  const gulps = dice.between(2, 11);
  const sway = wander(seconds, 0.5 / gulps, dice);
  const gate = on.map((value, k) => value * Math.max(0, 0.35 + sway[k]!) ** 1.5);
  const low = dice.ratio(250, 900);
  const crackle = paintNoise(canvas, [
    { colour: band(low, low * dice.between(4, 9), 9), level: gate, driftDb: 3 },
  ]);
  const gurgle = bubbles(scene, dice.between(30, 110), gate);
  return blend(canvas, atLevel(crackle, 0, rateHz), atLevel(gurgle, dice.between(-8, 3), rateHz));
}

/** A pump in order: hum, the vanes' tone and water in the hose. */
export function pump(scene: Scene, on: Curve): Layer {
  const { canvas, machine } = scene;
  const { dice, seconds, rateHz } = canvas;
  const turnHz = machine.linePump ? machine.lineHz : dice.between(35, 74);
  const sway = wander(seconds, 1.5, dice);
  const course = curve(seconds, () => turnHz).map((hz, k) =>
    machine.linePump ? hz : hz * (1 + 0.003 * sway[k]!),
  );
  const vanes = drawTones(
    canvas,
    course,
    [
      { order: machine.vanes, level: 1 },
      { order: 2 * machine.vanes, level: dice.ratio(0.1, 0.6) },
      { order: 1, level: dice.ratio(0.1, 0.8) },
    ],
    { gain: on, jitter: 0.0005, shimmerDb: 2 },
  );
  const magnetic = machine.linePump
    ? hum(scene, on, dice.between(0.5, 1.4))
    : drawTones(
        canvas,
        course,
        [6, 12, 18].map((order) => ({ order, level: 3 / order })),
        {
          gain: on,
        },
      );
  const stream = paintNoise(canvas, [{ colour: band(250, 2500, 7), level: on, driftDb: 2 }]);
  return blend(
    canvas,
    atLevel(magnetic, 0, rateHz),
    atLevel(vanes, dice.between(-14, -2), rateHz),
    atLevel(stream, dice.between(-14, 0), rateHz),
  );
}

/** When a pump is switched on: all through, or in pulses. */
export function pumpSpans(scene: Scene): Curve {
  const { seconds, dice } = scene.canvas;
  if (scene.phase === "drain" || dice.chance(0.5)) {
    const start = dice.chance(0.35) ? dice.between(0.3, 4) : -1;
    return during(seconds, [[start, seconds + 1]], 0.06);
  }
  const spans: [number, number][] = [];
  for (let time = -dice.between(0, 6); time < seconds; time += dice.between(5, 12)) {
    spans.push([time, time + dice.between(2, 5)]);
  }
  return during(seconds, spans, 0.06);
}

/** Water thrown about by a drum or an agitator, louder where it moves faster. */
export function slosh(scene: Scene): Layer {
  const { canvas, drumTurns, machine, motorHz, drumRpm } = scene;
  const { dice, seconds } = canvas;
  const moving = machine.front ? drumRpm : motorHz;
  const most = moving.reduce((top, value) => Math.max(top, value), 1);
  const lift = machine.front ? 3 : 0;
  const depth = dice.between(0.2, 0.8);
  const surge = wander(seconds, 0.25, dice);
  const level = moving.map((value, k) => {
    const rock = 1 + depth * Math.cos(2 * Math.PI * lift * drumTurns[k]!);
    return (0.12 + value / most) * (lift ? rock : 1) * Math.exp(0.35 * surge[k]!);
  });
  const knee = dice.ratio(140, 420);
  const splash = paintNoise(canvas, [
    { colour: band(knee, knee * dice.between(2, 5), dice.between(6, 11)), level, driftDb: 3 },
  ]);
  const drops = bubbles(
    scene,
    dice.between(8, 40),
    times(
      level,
      curve(seconds, () => 0.8),
    ),
  );
  return blend(
    canvas,
    atLevel(splash, 0, canvas.rateHz),
    atLevel(drops, dice.between(-18, -6), canvas.rateHz),
  );
}
