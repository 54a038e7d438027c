import { atLevel, type Layer } from "./canvas.js";
import { curve, during, type Curve } from "./curve.js";
import { carrierWhine, growl, hum, motorWhine } from "./electric-sounds.js";
import { floorColour, band, paintNoise } from "./painted-noise.js";
import { pulse } from "./rub.js";
import type { Scene } from "./scene.js";
import { strikeAll } from "./struck-body.js";
import { perTurn } from "./timing.js";
import { jet, pump, pumpSpans, slosh } from "./water-sounds.js";

/** A sound of a machine in order, brought to its level. */
export interface Voice {
  readonly name: string;
  readonly layer: Layer;
}

export const always = (scene: Scene): Curve => curve(scene.canvas.seconds, () => 1);

const voice = (scene: Scene, name: string, layer: Layer, db: number): Voice => ({
  name,
  layer: atLevel(layer, db, scene.canvas.rateHz),
});

/** The machine's body: a steep low rumble that grows with speed and breathes with the turn. */
function rumble(scene: Scene): Layer {
  const { canvas, drumRpm, drumTurns, motorHz } = scene;
  const { dice } = canvas;
  const moving = scene.phase === "wash" && !scene.machine.front ? motorHz : drumRpm;
  const most = moving.reduce((top, value) => Math.max(top, value), 1);
  const power = dice.between(0.7, 1.8);
  const level = moving.map((value) => 0.02 + Math.pow(value / most, power));
  const colour = floorColour(dice, dice.ratio(60, 150), dice.between(5, 10), dice.between(2, 4));
  const layer = paintNoise(canvas, [{ colour, level, driftDb: dice.between(0.5, 2) }]);
  // Every drum turns a little out of true: the rumble rises and falls with it.
  const depth = dice.between(0, 0.35);
  return pulse(canvas, layer, drumTurns, { ratio: 1, depth, sharpness: 1 });
}

/** Air dragged along and blown through the holes of a fast drum. */
function rush(scene: Scene): Layer {
  const { canvas, drumRpm } = scene;
  const { dice } = canvas;
  const level = drumRpm.map((rpm) => (rpm / 1000) ** 2.2);
  const low = dice.ratio(250, 700);
  return paintNoise(canvas, [{ colour: band(low, low * dice.between(2, 5), 7), level }]);
}

/** The load that is lifted and falls: dull flops, one to three a turn, none alike. */
export function flops(scene: Scene): Layer {
  const { canvas, drumTurns } = scene;
  const blows = perTurn(drumTurns, canvas.dice.one([1, 1, 2, 3]), canvas.dice, {
    jitterSeconds: 0.09,
    missed: 0.25,
    spread: 0.5,
  });
  return strikeAll(canvas, blows, [
    ["laundry", 1],
    ["tub", 0.12],
  ]);
}

function turningVoices(scene: Scene): Voice[] {
  const { dice } = scene.canvas;
  const { motor } = scene.machine;
  const voices = [
    voice(scene, "rumble", rumble(scene), 0),
    voice(scene, "whine", motorWhine(scene), dice.between(-28, -8)),
  ];
  if (scene.phase === "spin" || scene.phase === "coast") {
    voices.push(voice(scene, "rush", rush(scene), dice.between(-24, -8)));
  }
  if (scene.phase === "coast" || scene.phase === "hand-spin") return voices;
  if (motor === "universal")
    voices.push(voice(scene, "growl", growl(scene), dice.between(-16, -3)));
  if (motor === "mains") {
    const on = scene.torque.map((share) => Math.min(1, 2 * share));
    voices.push(voice(scene, "hum", hum(scene, on), dice.between(-12, 2)));
  } else if (motor !== "universal" && dice.chance(0.4)) {
    voices.push(voice(scene, "carrier", carrierWhine(scene), dice.between(-40, -20)));
  }
  return voices;
}

/** All that a sound machine lets hear in a phase. */
export function voicesInOrder(scene: Scene): Voice[] {
  const { canvas, phase, machine } = scene;
  const { dice } = canvas;
  if (phase === "fill") {
    const end = dice.chance(0.3) ? dice.between(0.5, 0.9) * canvas.seconds : canvas.seconds + 1;
    const on = during(canvas.seconds, [[-1, end]], 0.08);
    return [
      voice(scene, "jet", jet(scene, on), 0),
      voice(scene, "valve-hum", hum(scene, on, 0.7), dice.between(-14, 0)),
    ];
  }
  if (phase === "drain") {
    const on = pumpSpans(scene);
    const voices = [voice(scene, "pump", pump(scene, on), 0)];
    if (machine.pumpOnMotor) {
      voices.push(voice(scene, "hum", hum(scene, always(scene)), dice.between(-6, 3)));
    }
    return voices;
  }
  const voices = turningVoices(scene);
  if (phase === "wash") {
    voices.push(voice(scene, "slosh", slosh(scene), dice.between(-8, 4)));
    if (machine.front) voices.push(voice(scene, "flops", flops(scene), dice.between(-10, 4)));
  }
  if (phase === "spin" && scene.pumpRuns) {
    voices.push(voice(scene, "pump", pump(scene, pumpSpans(scene)), dice.between(-14, -1)));
  }
  return voices;
}
