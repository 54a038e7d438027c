import { atLevel, blend, type Layer } from "./canvas.js";
import { curve, during, times, wander, type Curve } from "./curve.js";
import { paintNoise, band } from "./painted-noise.js";
import type { Scene } from "./scene.js";
import { drawTones, harmonics, type Partial } from "./tone-stack.js";

/** Magnetic hum: twice the line and its multiples, while something is switched on. */
export function hum(scene: Scene, on: Curve, richness = 1): Layer {
  const { canvas, machine } = scene;
  const { dice } = canvas;
  const count = 3 + Math.round(6 * richness);
  const partials: Partial[] = harmonics(canvas, count, 9 / Math.max(0.3, richness), 5);
  // A little of the line itself and its odd multiples, as a gap that is not even gives.
  const odd = [0.5, 1.5, 2.5].map((order) => ({ order, level: dice.ratio(0.01, 0.12) }));
  const line = 2 * machine.lineHz * (1 + 0.0006 * dice.bell());
  return drawTones(
    canvas,
    curve(canvas.seconds, () => line),
    [...partials, ...odd],
    { gain: on, jitter: 0.0002, shimmerDb: dice.between(0.3, 1.5), memorySeconds: 0.5 },
  );
}

/** Orders of the motor that a sound motor lets hear, per motor turn. */
function whineOrders(scene: Scene): Partial[] {
  const { machine, canvas } = scene;
  const { dice } = canvas;
  const { poles, slots, bars } = machine;
  const draw = (order: number, lowDb: number, highDb: number): Partial => ({
    order,
    level: Math.pow(10, dice.between(lowDb, highDb) / 20),
  });
  if (machine.motor === "universal") {
    return [draw(bars, -14, 0), draw(slots, -16, -2), draw(1, -14, -4), draw(2, -14, -4)];
  }
  if (machine.motor === "inverter") {
    const side = dice.between(1.9, 2.1);
    return [draw(2, -12, 0), draw(bars, -10, 0), draw(bars - side, -14, -3), draw(6, -16, -5)];
  }
  if (machine.motor === "mains") return [draw(bars, -10, 0), draw(1, -12, -2), draw(2, -16, -6)];
  const least = [draw(poles, -8, 0), draw(3 * poles, -12, 0), draw(2 * poles, -20, -6)];
  return machine.motor === "direct"
    ? [...least, draw(slots, -24, -10)]
    : [...least, draw(1, -14, -3), draw(2, -20, -6)];
}

/** The motor's own pure tones, which rise and fall with it. */
export function motorWhine(scene: Scene): Layer {
  const { canvas, motorHz, torque } = scene;
  const pulled = torque.map((share) => 0.25 + 0.75 * share);
  const fast = motorHz.map((hz) => Math.min(1, hz / 4));
  return drawTones(canvas, motorHz, whineOrders(scene), {
    gain: times(pulled, fast),
    jitter: 0.0006,
    shimmerDb: 2,
  });
}

/** The carrier of a motor's converter: a thin fixed tone with sidebands. */
export function carrierWhine(scene: Scene): Layer {
  const { canvas, machine, torque, motorHz } = scene;
  const hz = curve(canvas.seconds, () => machine.carrierHz);
  const side = motorHz.map((rate) => (rate * machine.poles) / 2);
  const tone = drawTones(canvas, hz, [{ order: 1, level: 1 }], { gain: torque, shimmerDb: 1 });
  const beside = [-2, 2].map((k) =>
    drawTones(
      canvas,
      hz.map((value, n) => value + k * side[n]!),
      [{ order: 1, level: 0.35 }],
      { gain: torque },
    ),
  );
  return blend(canvas, tone, ...beside);
}

/** Triac or chopper growl of a brushed motor: the line's double and a row of its multiples. */
export function growl(scene: Scene): Layer {
  return hum(scene, scene.torque, 1.3);
}

/** A small geared motor of an actuator: weak hum with a thin gear whirr. */
export function actuatorHum(scene: Scene, spans: readonly (readonly [number, number])[]): Layer {
  const { canvas, machine } = scene;
  const { dice, seconds, rateHz } = canvas;
  const on = during(seconds, spans);
  const whirr = dice.between(250, 900);
  const sway = wander(seconds, 0.2, dice);
  const gears = drawTones(
    canvas,
    curve(seconds, () => whirr).map((hz, k) => hz * (1 + 0.004 * sway[k]!)),
    harmonics(canvas, 4, 6, 4),
    { gain: on, jitter: 0.002, shimmerDb: 3 },
  );
  const hiss = paintNoise(canvas, [{ colour: band(machine.lineHz * 8, 2500), level: on }]);
  return blend(
    canvas,
    atLevel(hum(scene, on, 1), 0, rateHz),
    atLevel(gears, dice.between(-12, 0), rateHz),
    atLevel(hiss, dice.between(-22, -10), rateHz),
  );
}
