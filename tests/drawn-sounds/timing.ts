import { crossings, valueAt, type Curve } from "./curve.js";
import type { Dice } from "./dice.js";
import type { Scene } from "./scene.js";
import type { Blow } from "./struck-body.js";

/** Blows each time a count of turns passes a place; early or late by chance, now and then missed. */
export function perTurn(
  turns: Curve,
  ratio: number,
  dice: Dice,
  how: { jitterSeconds?: number; missed?: number; spread?: number; offset?: number } = {},
): Blow[] {
  const place = how.offset ?? dice.unit();
  return crossings(
    turns.map((turn) => turn * ratio),
    place,
  )
    .filter(() => !dice.chance(how.missed ?? 0))
    .map((time) => ({
      timeSeconds: time + (how.jitterSeconds ?? 0.002) * dice.bell(),
      strength: Math.exp((how.spread ?? 0.15) * dice.bell()),
    }));
}

/** Blows without memory, at a mean rate that may change. */
export function atRandom(
  seconds: number,
  meanPerSecond: number,
  dice: Dice,
  spread = 0.5,
  rate?: Curve,
): Blow[] {
  const blows: Blow[] = [];
  for (let time = dice.wait(1 / meanPerSecond); time < seconds;) {
    const keep = rate ? valueAt(rate, time) : 1;
    if (dice.chance(keep)) {
      blows.push({ timeSeconds: time, strength: Math.exp(spread * dice.bell()) });
    }
    time += dice.wait(1 / meanPerSecond);
  }
  return blows;
}

/** Each blow weighed by a course at its moment. */
export function weighed(blows: readonly Blow[], course: Curve): Blow[] {
  return blows
    .map((blow) => ({ ...blow, strength: blow.strength * valueAt(course, blow.timeSeconds) }))
    .filter((blow) => blow.strength > 0.001);
}

/** A blow that bounces: ever shorter waits, ever weaker. */
export function bouncing(blows: readonly Blow[], dice: Dice, bounces: number): Blow[] {
  return blows.flatMap((blow) => {
    const chain = [blow];
    let wait = dice.between(0.012, 0.06);
    let { timeSeconds, strength } = blow;
    for (let k = 0; k < bounces; k++) {
      timeSeconds += wait;
      strength *= dice.between(0.3, 0.65);
      wait *= dice.between(0.5, 0.85);
      chain.push({ timeSeconds, strength });
    }
    return chain;
  });
}

/** Each change of direction: starts and ends of strokes, with the play taken up. */
export function reversals(scene: Scene, spread = 0.25): Blow[] {
  const { dice } = scene.canvas;
  return scene.strokes.flatMap(({ start, end }) =>
    [start + dice.between(0.01, 0.12), end - dice.between(0, 0.1)]
      .filter((time) => time > 0.02)
      .map((timeSeconds, k) => ({
        timeSeconds,
        strength: (k === 0 ? 1 : 0.45) * Math.exp(spread * dice.bell()),
      })),
  );
}

/** A swell of shaking as the speed passes the tub's own; 1 at the top. */
export function resonance(rpm: Curve, criticalRpm: number, widthShare: number): Curve {
  return rpm.map((value) => {
    if (value < 5) return 0;
    const off = Math.log(value / criticalRpm) / widthShare;
    return Math.exp(-0.5 * off * off);
  });
}
