import { atLevel, blend, type Layer } from "./canvas.js";
import { curve, during, times, wander, type Curve } from "./curve.js";
import { actuatorHum, carrierWhine, hum } from "./electric-sounds.js";
import { squeal } from "./faults-drive.js";
import { scrape } from "./faults-rolling.js";
import { always } from "./machine-in-order.js";
import type { Scene } from "./scene.js";
import { strikeAll } from "./struck-body.js";
import { atRandom, perTurn, weighed } from "./timing.js";
import { drawTones, harmonics } from "./tone-stack.js";
import { bubbles, pump, pumpSpans, snore } from "./water-sounds.js";

const lineCourse = (scene: Scene): Curve => curve(scene.canvas.seconds, () => scene.machine.lineHz);

/** A stone in the pump: hard knocks, never more than one a turn of the impeller, no rhythm. */
export function pumpDebris(scene: Scene): Layer {
  const { canvas } = scene;
  const { dice, seconds, rateHz } = canvas;
  const on = pumpSpans(scene);
  const bursts = wander(seconds, dice.between(0.1, 0.6), dice).map((value) =>
    Math.max(0.05, Math.min(1, 0.6 + value)),
  );
  const gate = times(on, bursts);
  const knocks = weighed(atRandom(seconds, dice.between(6, 35), dice, 0.6, gate), gate);
  const rattle = strikeAll(canvas, knocks, [
    ["click", 0.6],
    ["teeth", 1],
    ["rubber", 0.5],
  ]);
  return blend(
    canvas,
    atLevel(rattle, 0, rateHz),
    atLevel(hum(scene, on, 1.2), dice.between(-14, -3), rateHz),
  );
}

/** A worn bush: the line's comb far up, steady, sometimes with a squeal over it. */
export function pumpBearing(scene: Scene): Layer {
  const { canvas } = scene;
  const { dice, rateHz } = canvas;
  const on = pumpSpans(scene);
  const comb = drawTones(
    canvas,
    lineCourse(scene),
    harmonics(canvas, dice.whole(10, 24), dice.between(1, 4), 5),
    {
      gain: on,
      jitter: 0.0008,
      shimmerDb: 3,
    },
  );
  const cry = squeal(scene, on, 700, 2600);
  return blend(
    canvas,
    atLevel(comb, 0, rateHz),
    atLevel(cry, dice.chance(0.4) ? dice.between(-10, 2) : -40, rateHz),
  );
}

/** A pump that finds no water: crackle in gulps, or only a loud hum. */
export function pumpAir(scene: Scene): Layer {
  const { canvas } = scene;
  const { dice, rateHz } = canvas;
  const on = pumpSpans(scene);
  const stalled = dice.chance(0.35);
  return blend(
    canvas,
    atLevel(snore(scene, on), stalled ? -20 : 0, rateHz),
    atLevel(bubbles(scene, 40, on), dice.between(-16, -6), rateHz),
    atLevel(hum(scene, on, 1.2), stalled ? 0 : dice.between(-12, -2), rateHz),
  );
}

export function recirculationPump(scene: Scene): Layer {
  const { canvas } = scene;
  const { dice, rateHz } = canvas;
  const start = dice.between(-5, 4);
  const on = during(canvas.seconds, [[start, start + dice.between(8, 30)]], 0.08);
  const worn = drawTones(canvas, lineCourse(scene), harmonics(canvas, 14, 3, 5), {
    gain: on,
    jitter: 0.001,
  });
  return blend(
    canvas,
    atLevel(pump(scene, on), 0, rateHz),
    atLevel(worn, dice.between(-6, 4), rateHz),
    atLevel(snore(scene, on), dice.chance(0.3) ? dice.between(-8, 0) : -40, rateHz),
  );
}

/** A coin or wire: pings once a turn with misses while slow, a scraping hiss when fast. */
export function foreignObject(scene: Scene): Layer {
  const { canvas, drumRpm, drumTurns, machine, motorTurns, strokes } = scene;
  const { dice, rateHz } = canvas;
  const held = strokes.length > 0 && !machine.front;
  const turns = held ? motorTurns.map((turn) => turn / (machine.ratio * 5)) : drumTurns;
  const low = dice.ratio(1200, 3000);
  const fast = drumRpm.map((rpm) => Math.min(1, Math.max(0, (rpm - 120) / 250)));
  const slow = fast.map((value) => 1 - 0.8 * value);
  const pings = weighed(
    perTurn(turns, dice.one([1, 1, 2]), dice, { jitterSeconds: 0.06, missed: 0.25, spread: 0.6 }),
    slow,
  );
  const ring = strikeAll(canvas, pings, [
    ["coin", 1],
    ["shell", 0.4],
  ]);
  const drag = scrape(scene, canvas, [low, low * 3], dice.between(0.3, 0.9));
  const top = drumRpm.reduce((most, rpm) => Math.max(most, rpm), 0);
  return blend(
    canvas,
    atLevel(ring, top > 400 ? -10 : 0, rateHz),
    atLevel(drag, top > 400 ? 0 : dice.between(-24, -8), rateHz),
  );
}

/** A panel that answers one speed, or the pump: a chattering buzz of fixed pitch. */
export function loosePanel(scene: Scene): Layer {
  const { canvas, drumRpm, phase, machine } = scene;
  const { dice, seconds, rateHz } = canvas;
  const turning = phase === "spin" || phase === "coast" || phase === "hand-spin";
  const held = drumRpm[dice.whole(0, drumRpm.length - 1)]! || machine.topSpinRpm;
  const width = dice.between(0.04, 0.2);
  const sway = wander(seconds, 0.4, dice);
  const gate = drumRpm.map((rpm, k) => {
    const window = turning ? Math.exp(-0.5 * (Math.log(Math.max(rpm, 1) / held) / width) ** 2) : 1;
    return window * Math.max(0.1, Math.min(1.3, 0.8 + 0.4 * sway[k]!));
  });
  const base = turning ? (held / 60) * dice.whole(3, 14) : 2 * machine.lineHz;
  const pitch = curve(seconds, () => Math.min(600, Math.max(60, base)));
  const buzz = drawTones(
    canvas,
    pitch,
    harmonics(canvas, dice.whole(8, 20), dice.between(1, 5), 6),
    {
      gain: gate,
      jitter: 0.012,
      shimmerDb: 6,
      memorySeconds: 0.05,
    },
  );
  const chatter = strikeAll(canvas, weighed(atRandom(seconds, 45, dice, 0.5, gate), gate), [
    ["panel", 1],
    ["teeth", 0.3],
  ]);
  return blend(canvas, atLevel(buzz, 0, rateHz), atLevel(chatter, dice.between(-12, 2), rateHz));
}

/** Dry rubber: a squeak of fixed pitch in one part of each turn. */
export function doorBoot(scene: Scene): Layer {
  const { dice } = scene.canvas;
  const place = dice.unit();
  const share = dice.between(0.1, 0.35);
  const sway = wander(scene.canvas.seconds, 1, dice);
  const gate = scene.drumTurns.map((turn, k) => {
    const at = (((turn + place) % 1) + 0.03 * sway[k]! + 1) % 1;
    return scene.drumRpm[k]! > 4 && at < share ? Math.max(0.2, 1 + 0.4 * sway[k]!) : 0;
  });
  return squeal(scene, gate, 350, 2800);
}

/** A valve that buzzes, or the bang of the water when it shuts. */
export function inletValve(scene: Scene): Layer {
  const { canvas, phase } = scene;
  const { dice, seconds, rateHz } = canvas;
  const on =
    phase === "fill" ? always(scene) : during(seconds, [[dice.between(1, 4), dice.between(6, 12)]]);
  const buzz = drawTones(
    canvas,
    curve(seconds, () => 2 * scene.machine.lineHz),
    harmonics(canvas, dice.whole(6, 16), dice.between(0, 4), 5),
    { gain: on, jitter: 0.0003, shimmerDb: 2 },
  );
  if (dice.chance(0.8)) return atLevel(buzz, 0, rateHz);
  const bangs = Array.from({ length: dice.whole(1, 3) }, () => ({
    timeSeconds: dice.between(1, seconds - 1),
    strength: 1,
  }));
  return strikeAll(canvas, bangs, [
    ["pipe", 1],
    ["panel", 0.3],
  ]);
}

/** A chattering relay, or a converter that whines. */
export function controls(scene: Scene): Layer {
  const { canvas } = scene;
  const { dice, seconds, rateHz } = canvas;
  const sway = wander(seconds, dice.between(0.3, 2), dice);
  const gate = sway.map((value) => (value > -0.4 ? 1 : 0.02));
  const driven = scene.torque.some((share) => share > 0) && scene.machine.carrierHz < 0.4 * rateHz;
  if (driven && dice.chance(0.35)) return carrierWhine(scene);
  const clicks = weighed(atRandom(seconds, dice.ratio(2, 14), dice, 0.3), gate);
  const chatter = strikeAll(
    canvas,
    clicks,
    [
      ["click", 1],
      ["panel", 0.05],
    ],
    0.8,
  );
  return blend(
    canvas,
    atLevel(chatter, 0, rateHz),
    atLevel(actuatorHum(scene, [[0, seconds]]), dice.between(-40, -20), rateHz),
  );
}

/** A loose lifter: a clack where it tips over, one to three a turn, while the load still falls. */
export function drumLifter(scene: Scene): Layer {
  const { canvas, drumTurns, drumRpm } = scene;
  const { dice } = canvas;
  const slow = drumRpm.map((rpm) => (rpm > 3 && rpm < 70 ? 1 : 0.02));
  const first = dice.unit();
  const places = dice.chance(0.6)
    ? [first]
    : dice.chance(0.5)
      ? [first, first + 0.5]
      : [0, 1 / 3, 2 / 3];
  const blows = places.flatMap((offset) =>
    perTurn(drumTurns, 1, dice, { jitterSeconds: 0.02, missed: 0.08, spread: 0.3, offset }),
  );
  return strikeAll(canvas, weighed(blows, slow), [
    ["shell", 0.5],
    ["teeth", 1],
    ["rubber", 0.5],
  ]);
}
