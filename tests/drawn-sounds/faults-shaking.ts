import { atLevel, blend, type Layer } from "./canvas.js";
import { during, times, wander, type Curve } from "./curve.js";
import { scrape, withSpeed } from "./faults-rolling.js";
import { band, paintNoise } from "./painted-noise.js";
import { pulse } from "./rub.js";
import type { Scene } from "./scene.js";
import { strikeAll, type Blow } from "./struck-body.js";
import { bouncing, perTurn, resonance, reversals, weighed } from "./timing.js";

/** A panel shaken smoothly once a turn: low booming without a blow. */
function boom(scene: Scene, level: Curve, depth: number): Layer {
  const { canvas, drumTurns } = scene;
  const { dice } = canvas;
  const low = dice.ratio(40, 90);
  const layer = paintNoise(canvas, [
    { colour: band(low, low * dice.between(2.5, 5), 12), level, driftDb: 2 },
  ]);
  return pulse(canvas, layer, drumTurns, { ratio: 1, depth, sharpness: dice.between(1, 3) });
}

/** Swell of shaking that stays, at a drawn share, above the tub's own speed. */
function shaking(scene: Scene, above: number): Curve {
  const { machine, canvas, drumRpm } = scene;
  const swell = resonance(drumRpm, machine.criticalRpm, canvas.dice.between(0.25, 0.6));
  return swell.map((value, k) =>
    drumRpm[k]! > machine.criticalRpm ? Math.max(value, above) : value,
  );
}

/** Worn rods or dampers: the tub hits the cabinet each turn while it swings. */
export function suspension(scene: Scene): Layer {
  const { canvas, drumTurns } = scene;
  const { dice } = canvas;
  const level =
    scene.phase === "wash" || scene.phase === "hand-spin"
      ? withSpeed(
          scene.drumRpm.map((rpm, k) => rpm + scene.motorHz[k]!),
          0.5,
        )
      : shaking(scene, dice.between(0, 0.04));
  const hits = weighed(
    perTurn(drumTurns, dice.one([1, 1, 1, 2]), dice, {
      jitterSeconds: 0.015,
      missed: 0.08,
      spread: 0.4,
    }),
    level,
  );
  const strokes = weighed(reversals(scene, 0.5), level);
  return strikeAll(canvas, bouncing([...hits, ...strokes], dice, dice.whole(0, 2)), [
    ["tub", 1],
    ["panel", dice.between(0.3, 0.9)],
    ["cabinet", dice.between(0.3, 1)],
  ]);
}

export function unbalancedLoad(scene: Scene): Layer {
  const { canvas, drumTurns } = scene;
  const { dice, rateHz } = canvas;
  const level = shaking(scene, dice.between(0.08, 0.4));
  const swing = boom(scene, level, dice.between(0.6, 0.95));
  const thumps = strikeAll(
    canvas,
    weighed(perTurn(drumTurns, 1, dice, { jitterSeconds: 0.008, spread: 0.15 }), level),
    [
      ["cabinet", 1],
      ["tub", 0.5],
    ],
    0.05,
  );
  return blend(canvas, atLevel(swing, 0, rateHz), atLevel(thumps, dice.between(-6, 6), rateHz));
}

/** A foot in the air: the cabinet drums on the floor, often at every second turn only. */
export function levelling(scene: Scene): Layer {
  const { canvas, drumTurns, drumRpm } = scene;
  const { dice } = canvas;
  const level =
    scene.phase === "wash" ? withSpeed(drumRpm, 0.5) : shaking(scene, dice.between(0.3, 0.9));
  const ratio = dice.weighted<number>([
    [1, 5],
    [2, 3],
    [0.5, 2],
  ]);
  const blows = weighed(
    perTurn(drumTurns, ratio, dice, { jitterSeconds: 0.006, spread: 0.35, missed: 0.05 }),
    level,
  );
  return strikeAll(canvas, blows, [
    ["cabinet", 1],
    ["foot", dice.between(0.3, 1)],
    ["panel", dice.between(0.05, 0.3)],
  ]);
}

/** Bolts left in: everything is shaken rigidly, from the first turn to the last. */
export function shippingBolts(scene: Scene): Layer {
  const { canvas, drumTurns, drumRpm } = scene;
  const { dice, rateHz } = canvas;
  const level = withSpeed(drumRpm, dice.between(0.5, 1.3));
  const blows = weighed(perTurn(drumTurns, dice.one([1, 1, 2]), dice, { spread: 0.3 }), level);
  const hammer = strikeAll(canvas, blows, [
    ["cabinet", 1],
    ["panel", 1],
    ["foot", 0.6],
    ["shell", 0.15],
  ]);
  const shiver = paintNoise(canvas, [
    { colour: band(dice.ratio(40, 80), dice.ratio(400, 1500), 6), level },
  ]);
  pulse(canvas, shiver, drumTurns, { ratio: 1, depth: dice.between(0.5, 0.9), sharpness: 2 });
  return blend(canvas, atLevel(hammer, 0, rateHz), atLevel(shiver, dice.between(-9, 1), rateHz));
}

/** A weight whose bolts gave way: one dull clonk a turn that does not fade at speed. */
export function counterweight(scene: Scene): Layer {
  const { canvas, drumTurns, drumRpm } = scene;
  const { dice } = canvas;
  const level = withSpeed(drumRpm, dice.between(0, 0.6)).map((value) => 0.2 + value);
  const blows = weighed(perTurn(drumTurns, 1, dice, { jitterSeconds: 0.003, spread: 0.25 }), level);
  return strikeAll(canvas, bouncing(blows, dice, dice.whole(0, 1)), [
    ["cast", 1],
    ["tub", dice.between(0.1, 0.5)],
  ]);
}

/** A cracked spider: a thump a turn, and at speed the drum leans out and scrapes. */
export function drumSpider(scene: Scene): Layer {
  const { canvas, drumTurns, drumRpm } = scene;
  const { dice, rateHz } = canvas;
  const blows = [
    ...perTurn(drumTurns, 1, dice, { jitterSeconds: 0.006, spread: 0.25, offset: 0.2 }),
    ...(dice.chance(0.5)
      ? perTurn(drumTurns, 1, dice, { jitterSeconds: 0.01, spread: 0.3, offset: 0.7 }).map(
          (blow) => ({ ...blow, strength: 0.5 * blow.strength }),
        )
      : []),
  ];
  const thumps = strikeAll(
    canvas,
    [...blows, ...reversals(scene)],
    [
      ["tub", 1],
      ["shell", dice.between(0.05, 0.3)],
      ["cabinet", dice.between(0.1, 0.5)],
    ],
  );
  const top = drumRpm.reduce((most, rpm) => Math.max(most, rpm), 0);
  const low = dice.ratio(700, 1600);
  const drag = scrape(scene, canvas, [low, low * 4], dice.between(0.75, 0.98));
  return blend(
    canvas,
    atLevel(thumps, 0, rateHz),
    atLevel(drag, top > 300 ? dice.between(-12, 2) : dice.between(-24, -10), rateHz),
  );
}

/** A loose hub: a clunk wherever the pull on the drum changes sign, a faint knock between. */
export function hubNut(scene: Scene): Layer {
  const { canvas, drumTurns, drumRpm, pushes } = scene;
  const { dice, seconds } = canvas;
  const starts: Blow[] = [];
  for (let k = 1; k < drumRpm.length; k++) {
    if (drumRpm[k - 1]! < 3 && drumRpm[k]! >= 3) {
      starts.push({ timeSeconds: k / 200 + dice.between(0, 0.1), strength: 1 });
    }
  }
  const nudges = pushes.map((time) => ({ timeSeconds: time + dice.between(0, 0.2), strength: 1 }));
  const slow = during(seconds, [[0, seconds]]).map((value, k) =>
    drumRpm[k]! > 4 && drumRpm[k]! < 160 ? value : 0.15 * value,
  );
  const knocks = weighed(
    perTurn(drumTurns, 1, dice, { jitterSeconds: 0.02, missed: 0.15, spread: 0.4 }),
    slow,
  );
  const faint = scene.phase === "wash" ? dice.between(0.05, 0.3) : dice.between(0.3, 0.9);
  const all = [
    ...reversals(scene),
    ...starts,
    ...nudges,
    ...knocks.map((blow) => ({ ...blow, strength: faint * blow.strength })),
  ];
  return strikeAll(canvas, bouncing(all, dice, dice.whole(0, 2)), [
    ["cast", 0.6],
    ["tub", 0.8],
    ["teeth", dice.between(0.05, 0.3)],
  ]);
}

/** A balance ring that lost its fluid, or balls that clack: heavy at low speed, drifting against the turn. */
export function balanceRing(scene: Scene): Layer {
  const { canvas, drumTurns, drumRpm, machine } = scene;
  const { dice, seconds, rateHz } = canvas;
  const window = resonance(
    drumRpm,
    machine.criticalRpm * dice.between(0.7, 1.2),
    dice.between(0.4, 0.8),
  );
  const slip = dice.between(0.9, 0.985);
  const beat = wander(seconds, 1, dice).map((value) => Math.max(0.2, 1 + 0.5 * value));
  const level = times(window, beat);
  const heavy = weighed(perTurn(drumTurns, 1, dice, { jitterSeconds: 0.012, spread: 0.25 }), level);
  const thumps = strikeAll(canvas, heavy, [
    ["tub", 0.8],
    ["laundry", 1],
    ["cabinet", 0.4],
  ]);
  const balls = weighed(
    perTurn(drumTurns, slip * dice.one([1, 2, 3]), dice, {
      jitterSeconds: 0.03,
      spread: 0.5,
      missed: 0.2,
    }),
    level,
  );
  const clacks = strikeAll(canvas, balls, [
    ["teeth", 0.7],
    ["shell", 0.3],
  ]);
  const fluid = dice.chance(0.5);
  return blend(
    canvas,
    atLevel(thumps, fluid ? 0 : -8, rateHz),
    atLevel(clacks, fluid ? -14 : 0, rateHz),
  );
}
