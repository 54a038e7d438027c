import { atLevel, type Layer } from "./canvas.js";
import { during, wander } from "./curve.js";
import { actuatorHum, hum, motorWhine } from "./electric-sounds.js";
import { always } from "./machine-in-order.js";
import type { Scene } from "./scene.js";
import { strikeAll, type Blow } from "./struck-body.js";
import { atRandom, perTurn, resonance, weighed } from "./timing.js";
import { jet, pump, pumpSpans, snore } from "./water-sounds.js";

/** Noises of machines in order that are complained about; each told by its name in the note. */
export type Complaint =
  | "loud pump"
  | "pump snore"
  | "double knock as the pump starts"
  | "shift actuator"
  | "ratchet of a two-part agitator"
  | "hum switched on and off"
  | "slosh of the balance ring"
  | "rising whine"
  | "relay ticks"
  | "loud filling"
  | "zips and buttons"
  | "one thump and a new try"
  | "nothing in particular";

function balanceSlosh(scene: Scene): Layer {
  const { canvas, drumRpm, drumTurns, machine } = scene;
  const { dice } = canvas;
  const window = resonance(drumRpm, dice.between(0.5, 1) * machine.criticalRpm, 0.6);
  const slip = dice.between(0.8, 0.98);
  const knock = weighed(perTurn(drumTurns, slip, dice, { jitterSeconds: 0.02 }), window);
  return strikeAll(canvas, knock, [
    ["laundry", 1],
    ["tub", 0.3],
  ]);
}

/** Clicks of a switching actuator with its hum between; again and again where it does not arrive. */
export function clicksAndHum(scene: Scene, retries: number): Layer {
  const { canvas } = scene;
  const { dice } = canvas;
  const clicks: Blow[] = [];
  const spans: [number, number][] = [];
  let time = dice.between(0.2, 3);
  for (let k = 0; k < retries; k++) {
    const end = time + dice.between(1, 4.5);
    clicks.push({ timeSeconds: time, strength: 1 }, { timeSeconds: end, strength: 0.8 });
    spans.push([time, end]);
    time = end + dice.between(0.5, 2.5);
  }
  const knocks = strikeAll(
    canvas,
    clicks,
    [
      ["click", 1],
      ["panel", 0.08],
    ],
    0.6,
  );
  const buzz = actuatorHum(scene, spans);
  const { rateHz } = canvas;
  const base = atLevel(knocks, 0, rateHz);
  const level = dice.between(-16, -2);
  return base.map((value, n) => value + 10 ** (level / 20) * buzz[n]!);
}

const ZIPS = (scene: Scene): Layer => {
  const { canvas, drumTurns } = scene;
  const blows = perTurn(drumTurns, canvas.dice.between(1, 3), canvas.dice, {
    jitterSeconds: 0.15,
    missed: 0.45,
    spread: 0.7,
  });
  return strikeAll(canvas, blows, [
    ["coin", 0.5],
    ["shell", 0.25],
  ]);
};

const RELAY = (scene: Scene): Layer => {
  const { canvas } = scene;
  const start = canvas.dice.between(0, 0.6) * canvas.seconds;
  const on = during(canvas.seconds, [[start, start + canvas.dice.between(0.4, 3)]]);
  const blows = weighed(atRandom(canvas.seconds, canvas.dice.between(4, 12), canvas.dice, 0.2), on);
  return strikeAll(canvas, blows, [["click", 1]], 0.8);
};

const DOUBLE_KNOCK = (scene: Scene): Layer => {
  const { dice } = scene.canvas;
  const time = dice.between(0.3, 4);
  const blows = [
    { timeSeconds: time, strength: 1 },
    { timeSeconds: time + dice.between(0.06, 0.25), strength: dice.between(0.5, 1) },
  ];
  return strikeAll(scene.canvas, blows, [
    ["rubber", 1],
    ["panel", 0.2],
  ]);
};

const ONE_THUMP = (scene: Scene): Layer => {
  const { dice, seconds } = scene.canvas;
  const blows = [{ timeSeconds: dice.between(0.2, 0.8) * seconds, strength: 1 }];
  return strikeAll(scene.canvas, blows, [
    ["tub", 1],
    ["cabinet", 1],
  ]);
};

const RATCHET = (scene: Scene): Layer => {
  const { canvas, strokes, inputTurns } = scene;
  const back = during(
    canvas.seconds,
    strokes.filter((one) => one.direction < 0).map(({ start, end }) => [start, end] as const),
  );
  const teeth = canvas.dice.between(2, 7);
  const blows = weighed(perTurn(inputTurns, teeth, canvas.dice, { spread: 0.3 }), back);
  return strikeAll(canvas, blows, [
    ["click", 1],
    ["rubber", 0.4],
  ]);
};

const ON_AND_OFF = (scene: Scene): Layer => {
  const { dice, seconds } = scene.canvas;
  const spans: [number, number][] = [];
  for (let time = -dice.unit() * 3; time < seconds; time += dice.between(2, 7)) {
    spans.push([time, time + dice.between(0.8, 3)]);
  }
  return hum(scene, during(seconds, spans, 0.02));
};

const MAKERS: Readonly<Partial<Record<Complaint, (scene: Scene) => Layer>>> = {
  "loud pump": (scene) => pump(scene, pumpSpans(scene)),
  "pump snore": (scene) => {
    const sway = wander(scene.canvas.seconds, 3, scene.canvas.dice);
    return snore(
      scene,
      sway.map((value) => Math.min(1, Math.max(0.1, 0.7 + value))),
    );
  },
  "double knock as the pump starts": DOUBLE_KNOCK,
  "shift actuator": (scene) => clicksAndHum(scene, 1),
  "ratchet of a two-part agitator": RATCHET,
  "hum switched on and off": ON_AND_OFF,
  "slosh of the balance ring": balanceSlosh,
  "rising whine": motorWhine,
  "relay ticks": RELAY,
  "loud filling": (scene) => jet(scene, always(scene)),
  "zips and buttons": ZIPS,
  "one thump and a new try": ONE_THUMP,
};

/** Complaints that fit what the machine is doing, with how common each is. */
export function drawComplaint(scene: Scene): Complaint {
  const { phase, machine, canvas } = scene;
  const row: [Complaint, number][] = [["nothing in particular", 4]];
  if (phase === "fill") row.push(["loud filling", 4], ["relay ticks", 0.7]);
  if (phase === "drain") {
    row.push(["loud pump", 3], ["pump snore", 5], ["double knock as the pump starts", 1.5]);
  }
  if (phase === "wash") row.push(["relay ticks", 0.7]);
  if (phase === "wash" && machine.front) row.push(["zips and buttons", 3], ["rising whine", 1]);
  if (phase === "wash" && !machine.front) {
    row.push(["shift actuator", 1.5], ["ratchet of a two-part agitator", 1.5]);
  }
  if (phase === "spin" || phase === "coast") {
    row.push(["rising whine", phase === "spin" ? 4 : 1], ["slosh of the balance ring", 1.5]);
  }
  if (phase === "spin") row.push(["pump snore", 1], ["one thump and a new try", 1]);
  if (phase === "spin" && machine.motor === "mains") row.push(["hum switched on and off", 3]);
  return canvas.dice.weighted(row);
}

/** The noise that is complained about though nothing is wrong; null where nothing sticks out. */
export function complained(scene: Scene, complaint: Complaint): Layer | null {
  return MAKERS[complaint]?.(scene) ?? null;
}
