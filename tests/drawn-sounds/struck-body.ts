import { blank, type Canvas, type Layer } from "./canvas.js";
import { BODIES, type BodyKind } from "./bodies.data.js";

/** A blow: when, how hard. */
export interface Blow {
  readonly timeSeconds: number;
  readonly strength: number;
}

interface Mode {
  readonly hz: number;
  readonly decaySeconds: number;
  readonly level: number;
}

/** Modes of one specimen: drawn anew for each machine. */
export type Body = readonly Mode[];

export function drawBody(canvas: Canvas, kind: BodyKind): Body {
  const { dice } = canvas;
  const row = BODIES[kind];
  const count = dice.whole(row.modes[0], row.modes[1]);
  // A soft meeting of the two faces rounds the blow off and starves the high modes.
  const softHz = dice.ratio(row.softHz[0], row.softHz[1]);
  const decay = dice.ratio(row.decaySeconds[0], row.decaySeconds[1]);
  return Array.from({ length: count }, () => {
    const hz = dice.ratio(row.hz[0], row.hz[1]);
    const above = hz / row.hz[0];
    return {
      hz,
      decaySeconds: decay * Math.pow(above, -dice.between(0.2, 0.6)) * dice.ratio(0.6, 1.7),
      level: Math.exp(-((hz / softHz) ** 2)) * dice.ratio(0.25, 1),
    };
  });
}

const LONGEST_SECONDS = 0.6;

/** One blow's sound; `snap` is the share of toneless noise where the faces meet. */
function ring(canvas: Canvas, body: Body, snap: number): Float32Array {
  const { dice, rateHz } = canvas;
  const modes = body.filter((mode) => mode.hz < 0.46 * rateHz);
  const longest = modes.reduce((most, mode) => Math.max(most, mode.decaySeconds), 0.004);
  const sound = new Float32Array(Math.round(Math.min(LONGEST_SECONDS, 6 * longest) * rateHz) + 8);
  for (const mode of modes) {
    const turn = (2 * Math.PI * mode.hz) / rateHz;
    const keep = Math.exp(-1 / (mode.decaySeconds * rateHz));
    const level = mode.level * dice.ratio(0.5, 1.6) * (dice.chance(0.5) ? 1 : -1);
    let last = 0;
    let value = level * Math.sin(turn);
    const back = 2 * keep * Math.cos(turn);
    for (let n = 0; n < sound.length; n++) {
      sound[n]! += value;
      const next = back * value - keep * keep * last;
      last = value;
      value = next;
    }
  }
  const burst = Math.min(sound.length, Math.round(dice.between(0.0015, 0.006) * rateHz));
  for (let n = 0; n < burst; n++) {
    sound[n]! += snap * (dice.unit() - 0.5) * Math.exp((-4 * n) / burst);
  }
  return sound;
}

const SPECIMENS = 4;

/** Blows on a body; no two ring quite alike. */
export function strike(canvas: Canvas, blows: readonly Blow[], body: Body, snap = 0.3): Layer {
  const layer = blank(canvas);
  const sounds = Array.from({ length: SPECIMENS }, () => ring(canvas, body, snap));
  for (const { timeSeconds, strength } of blows) {
    const sound = canvas.dice.one(sounds);
    const start = Math.round(timeSeconds * canvas.rateHz);
    if (start < 0) continue;
    const end = Math.min(sound.length, canvas.length - start);
    for (let n = 0; n < end; n++) layer[start + n]! += strength * sound[n]!;
  }
  return layer;
}

/** The same blows on several bodies at once: what a hit tub passes on to cabinet and panels. */
export function strikeAll(
  canvas: Canvas,
  blows: readonly Blow[],
  parts: readonly (readonly [kind: BodyKind, gain: number])[],
  snap = 0.3,
): Layer {
  const sum = blank(canvas);
  for (const [kind, gain] of parts) {
    const scaled = blows.map((blow) => ({ ...blow, strength: blow.strength * gain }));
    const part = strike(canvas, scaled, drawBody(canvas, kind), snap);
    for (let n = 0; n < sum.length; n++) sum[n]! += part[n]!;
  }
  return sum;
}
