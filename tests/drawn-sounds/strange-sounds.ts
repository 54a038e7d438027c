import { atLevel, blend, type Canvas, type Layer } from "./canvas.js";
import { curve, during, turnsOf, wander, type Curve } from "./curve.js";
import { band, floorColour, paintNoise } from "./painted-noise.js";
import { pulse, roughen } from "./rub.js";
import { strikeAll, strike, type Body } from "./struck-body.js";
import { atRandom } from "./timing.js";
import { drawTones, harmonics } from "./tone-stack.js";

/** A motor that runs by itself: a row of tones on a course, air moved, both rough in their turn. */
function engine(canvas: Canvas, hz: Curve, airDb: number, airHz: number, fallDb: number): Layer {
  const { dice, rateHz } = canvas;
  const row = drawTones(canvas, hz, harmonics(canvas, dice.whole(6, 14), fallDb, 6), {
    jitter: 0.004,
    shimmerDb: 3,
  });
  const air = paintNoise(canvas, [{ colour: band(airHz / 3, airHz, 7), driftDb: 1 }]);
  pulse(canvas, air, turnsOf(hz), { ratio: 1, depth: dice.between(0, 0.5), sharpness: 2 });
  return blend(canvas, atLevel(row, 0, rateHz), atLevel(air, airDb, rateHz));
}

const steady = (canvas: Canvas, hz: number, spread: number): Curve =>
  wander(canvas.seconds, 0.8, canvas.dice).map((value) => hz * (1 + spread * value));

/** Speech-like: a gliding voice through moving resonances, in syllables with pauses. */
export function speech(canvas: Canvas): Layer {
  const { dice, seconds, rateHz } = canvas;
  const pitch = steady(canvas, dice.ratio(90, 240), 0.12);
  const sway = wander(seconds, 0.12, dice);
  const talk = wander(seconds, 1.5, dice);
  const gain = sway.map((value, k) => (talk[k]! > -0.5 ? Math.max(0, 0.3 + value) : 0));
  const formants = [dice.ratio(350, 800), dice.ratio(1000, 2200)];
  const centre = pitch[0]!;
  const partials = Array.from({ length: 20 }, (_, k) => ({
    order: k + 1,
    level: formants.reduce(
      (sum, hz) => sum + Math.exp(-((((k + 1) * centre - hz) / 250) ** 2)),
      0.04,
    ),
  }));
  const voice = drawTones(canvas, pitch, partials, { gain, jitter: 0.006, shimmerDb: 6 });
  const hissing = wander(seconds, 0.08, dice).map((value) => (value > 1.2 ? 1 : 0));
  const hiss = paintNoise(canvas, [{ colour: band(3000, 7000), level: hissing }]);
  return blend(canvas, atLevel(voice, 0, rateHz), atLevel(hiss, -14, rateHz));
}

/** Music-like: chords of drawn notes on a beat. */
export function music(canvas: Canvas): Layer {
  const { dice, seconds } = canvas;
  const beat = dice.between(0.25, 0.6);
  const root = dice.ratio(110, 260);
  return blend(
    canvas,
    ...[0, 4, 7].map((step) => {
      const steps = Array.from({ length: Math.ceil(seconds / beat) + 1 }, () =>
        dice.one([0, 2, 4, 5, 7, 9]),
      );
      const hz = curve(
        seconds,
        (time) => root * 2 ** ((step + steps[Math.floor(time / beat)]!) / 12),
      );
      const gain = curve(seconds, (time) => Math.exp((-3 * (time % beat)) / beat));
      return drawTones(canvas, hz, harmonics(canvas, 6, 8, 3), { gain, jitter: 0 });
    }),
  );
}

function bark(canvas: Canvas): Layer {
  const { dice, seconds, rateHz } = canvas;
  const times = atRandom(seconds, dice.between(0.6, 2), dice).map((blow) => blow.timeSeconds);
  const gain = during(
    seconds,
    times.map((time) => [time, time + dice.between(0.1, 0.25)]),
    0.05,
  );
  const cry = drawTones(
    canvas,
    steady(canvas, dice.ratio(250, 700), 0.2),
    harmonics(canvas, 8, 4, 4),
    { gain },
  );
  const breath = paintNoise(canvas, [{ colour: band(500, 2500), level: gain }]);
  return blend(canvas, atLevel(cry, 0, rateHz), atLevel(breath, -3, rateHz));
}

function clock(canvas: Canvas): Layer {
  const period = canvas.dice.one([0.25, 0.5, 1]);
  const blows = Array.from({ length: Math.floor(canvas.seconds / period) }, (_, k) => ({
    timeSeconds: 0.1 + k * period,
    strength: k % 2 ? 0.7 : 1,
  }));
  return strikeAll(canvas, blows, [
    ["click", 1],
    ["coin", 0.2],
  ]);
}

function rain(canvas: Canvas): Layer {
  const { dice, seconds, rateHz } = canvas;
  const floor = paintNoise(canvas, [{ colour: band(dice.ratio(500, 1500), 9000, 5), driftDb: 1 }]);
  const drop: Body = [{ hz: dice.ratio(800, 3000), decaySeconds: 0.006, level: 1 }];
  const drops = strike(canvas, atRandom(seconds, 60, dice, 0.8), drop, 0.5);
  return blend(canvas, atLevel(floor, 0, rateHz), atLevel(drops, dice.between(-8, 3), rateHz));
}

function kettle(canvas: Canvas): Layer {
  const { dice, seconds } = canvas;
  const rise = curve(seconds, (time) => 0.2 + time / seconds);
  const layer = paintNoise(canvas, [
    { colour: band(dice.ratio(150, 500), dice.ratio(900, 3000), 9), level: rise, driftDb: 3 },
  ]);
  return roughen(canvas, layer, 40, 3);
}

function traffic(canvas: Canvas): Layer {
  const { dice, seconds } = canvas;
  const level = wander(seconds, 2.5, dice).map((value) => Math.exp(0.8 * value));
  return paintNoise(canvas, [{ colour: floorColour(dice, 80, 4, 2), level, driftDb: 2 }]);
}

function drill(canvas: Canvas): Layer {
  const { dice, seconds } = canvas;
  const start = dice.between(0, 2);
  const load = wander(seconds, 0.5, dice);
  const hz = during(seconds, [[start, seconds - dice.between(0, 3)]], 0.6).map(
    (on, k) => on * 280 * (1 + 0.12 * load[k]!),
  );
  return engine(canvas, hz, -4, 5000, 1);
}

/** Sounds of no washer, by name. */
export const STRANGERS: Readonly<Record<string, (canvas: Canvas) => Layer>> = {
  drill,
  fan: (canvas) => engine(canvas, steady(canvas, canvas.dice.ratio(40, 160), 0.002), 6, 900, 8),
  "vacuum cleaner": (canvas) =>
    engine(canvas, steady(canvas, canvas.dice.ratio(350, 700), 0.006), 4, 5000, 6),
  kettle,
  traffic,
  music,
  speech,
  dog: bark,
  rain,
  clock,
  "lawn mower": (canvas) =>
    engine(canvas, steady(canvas, canvas.dice.ratio(22, 55), 0.03), -2, 2500, 2),
  fridge: (canvas) => engine(canvas, steady(canvas, canvas.dice.one([50, 60]), 0.0002), -6, 500, 7),
};
