import { curve, map, through, wander, type Curve } from "./curve.js";
import type { Dice } from "./dice.js";
import type { Machine } from "./machine.js";

/** Where in the spin the recording falls. `through-critical`: from the washing speed past the shaking band. */
export type SpinPart = "plateau" | "run-up" | "start" | "through-critical" | "restarts" | "braked";

const smooth = (share: number): number => share * share * (3 - 2 * share);

/** Steps of a run-up: climbs and rests between them. */
function climb(seconds: number, from: number, to: number, dice: Dice): Curve {
  const rests = dice.whole(0, 2);
  const knots: [number, number][] = [[dice.between(0, 1.5), from]];
  let time = knots[0]![0];
  for (let k = 0; k <= rests; k++) {
    const share = k === rests ? 1 : (k + dice.between(0.5, 1)) / (rests + 1);
    time += (seconds * dice.between(0.45, 0.9)) / (rests + 1);
    knots.push([time, from + (to - from) * share]);
    if (k < rests) knots.push([(time += dice.between(0.5, 2.5)), from + (to - from) * share]);
  }
  return through(seconds, knots);
}

function drawPart(seconds: number, part: SpinPart, machine: Machine, dice: Dice): Curve {
  const top = machine.topSpinRpm;
  const low = machine.front ? dice.between(55, 100) : dice.between(20, 70);
  const end = Math.max(2.2 * machine.criticalRpm, top * dice.between(0.45, 0.8));
  if (part === "plateau") {
    const speed = top * (dice.chance(0.6) ? 1 : dice.between(0.5, 0.95));
    return curve(seconds, () => speed);
  }
  if (part === "run-up") return climb(seconds, top * dice.between(0.25, 0.5), top, dice);
  if (part === "through-critical") return climb(seconds, low, Math.min(end, top), dice);
  if (part === "restarts") {
    const knots: [number, number][] = [[0, low]];
    for (let time = dice.between(1, 3); time < seconds;) {
      const peak = low * dice.between(1.2, 2.2);
      knots.push([time, low], [(time += dice.between(1.5, 3)), peak]);
      knots.push([(time += dice.between(0.5, 2)), peak], [(time += dice.between(0.8, 2)), low]);
      time += dice.between(0.5, 2.5);
    }
    return through(seconds, knots);
  }
  if (part === "start") {
    const start = dice.between(0.5, 0.25 * seconds);
    const climbing = dice.between(0.4, 1) * seconds;
    return curve(seconds, (time) => {
      const share = Math.min(1, Math.max(0, (time - start) / climbing));
      return end * (1 - Math.pow(1 - share, 1.6));
    });
  }
  const turn = dice.between(0.3, 0.7) * seconds;
  const braking = dice.between(5, 14);
  return curve(seconds, (time) => top * Math.max(0, 1 - Math.max(0, time - turn) / braking));
}

export function drawSpin(seconds: number, part: SpinPart, machine: Machine, dice: Dice): Curve {
  const course = drawPart(seconds, part, machine, dice);
  const unsteady = dice.ratio(0.0006, 0.006);
  const sway = wander(seconds, dice.between(0.5, 3), dice);
  return map(course, (rpm, k) => Math.max(0, rpm * (1 + unsteady * sway[k]!)));
}

/** Power is cut: dry friction takes a fixed amount a second, air takes more at speed. */
export function drawCoast(seconds: number, machine: Machine, toTheEnd: boolean, dice: Dice): Curve {
  const start = machine.topSpinRpm * (toTheEnd ? dice.between(0.25, 0.7) : dice.between(0.6, 1));
  const cut = dice.between(0, 0.12) * seconds;
  const running = toTheEnd ? dice.between(0.6, 0.95) * seconds - cut : dice.between(18, 60);
  const bend = dice.between(1, 1.7);
  return curve(seconds, (time) => {
    const share = Math.min(1, Math.max(0, (time - cut) / running));
    return start * Math.pow(1 - share, bend);
  });
}

/** A hand pushes the drum now and then and lets it run out. */
export function drawHandSpin(
  seconds: number,
  machine: Machine,
  dice: Dice,
): { rpm: Curve; pushes: number[] } {
  const dragged = machine.beltPerDrum !== null && dice.chance(0.6);
  const pushes: number[] = [];
  const events: { time: number; peak: number; memory: number; push: number }[] = [];
  for (let time = dice.between(0.2, 1.2); time < seconds - 1; time += dice.between(2.2, 6)) {
    pushes.push(time);
    events.push({
      time,
      peak: dice.between(25, 85),
      memory: dragged ? dice.between(0.8, 2) : dice.between(2, 6),
      push: dice.between(0.25, 0.6),
    });
  }
  let left = 0;
  const rpm = curve(seconds, (time) => {
    const event = events.filter((one) => one.time <= time).at(-1);
    if (!event) return 0;
    const since = time - event.time;
    if (since < event.push) {
      return left + (event.peak - left) * smooth(since / event.push);
    }
    const now = event.peak * (Math.exp(-(since - event.push) / event.memory) - 0.06);
    return (left = Math.max(0, now));
  });
  return { rpm, pushes };
}
