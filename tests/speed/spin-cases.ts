import { createRandom } from "../../src/foundation/random.js";
import type { SpinSound } from "./spin-sound.js";

export type Motion = "plateau" | "ramp" | "coast" | "steps";
export type Drive = "belt" | "direct" | "top-induction";

export interface SpinCase {
  readonly motion: Motion;
  readonly drive: Drive;
  readonly sound: SpinSound;
  /** Built-in washer that the clip may be called. */
  readonly machine: string;
  readonly family: string;
}

function courseOf(
  motion: Motion,
  seconds: number,
  low: number,
  high: number,
): (t: number) => number {
  switch (motion) {
    case "plateau":
      return (t) => high * (1 + 0.002 * Math.sin(t / 3));
    case "ramp":
      return (t) => low + ((high - low) * t) / seconds;
    case "coast":
      return (t) => high * Math.exp((Math.log(low / high) * t) / seconds);
    case "steps": {
      const at = 0.2 * seconds;
      const until = 0.6 * seconds;
      return (t) =>
        t < at ? low : t > until ? high : low + ((high - low) * (t - at)) / (until - at);
    }
  }
}

const SLOTS_POLES = [
  [36, 48],
  [36, 42],
  [27, 24],
  [36, 24],
  [24, 32],
] as const;

/** One random spin clip; the same numbers give the same clip. */
export function spinCase(
  motion: Motion,
  drive: Drive,
  seconds: number,
  toneDb: number | null,
  seed: number,
): SpinCase {
  const random = createRandom(seed).fork(`${motion}/${drive}/${seconds}/${toneDb}`);
  const high = drive === "top-induction" ? random.between(8.5, 12.5) : random.between(9, 23);
  const rise = Math.min(0.8 * seconds, high - 4.5);
  const low = Math.max(4.5, high - random.between(0.3, 1) * rise);
  const lineHz = random.pick([50, 60] as const);
  const depth = random.between(0.06, 0.35);
  let drumHzAt = courseOf(motion, seconds, low, high);
  let ratio = random.between(7.8, 13.5);
  let toneOrders: number[] | undefined;
  if (drive === "direct") {
    const [slots, poles] = random.pick(SLOTS_POLES);
    ratio = poles;
    const common = (a: number, b: number): number => (b === 0 ? a : common(b, a % b));
    toneOrders = [poles, 2 * poles, 3 * poles, (slots * poles) / common(slots, poles)];
  } else if (drive === "top-induction") {
    ratio = random.between(2.3, 2.8);
    const motorHz = (lineHz / 2) * random.between(0.94, 0.985);
    drumHzAt = courseOf(motion, seconds, low, motorHz / ratio);
  }
  const machine = {
    belt: random.pick(["front-load-belt-universal", "front-load-belt-bldc"]),
    direct: random.pick(["front-load-direct"]),
    "top-induction": ratio < 2.7 ? "top-load-belt" : "top-load-belt-reversing",
  }[drive];
  return {
    motion,
    drive,
    machine,
    family: drive === "top-induction" ? "top-load" : "front-load",
    sound: {
      seed: random.integer(1, 1e9),
      seconds,
      drumHzAt,
      ratio,
      ...(toneOrders ? { toneOrders } : {}),
      toneDb,
      depths: [depth, depth * random.between(0, 0.7), depth * random.between(0, 0.5)],
      lineHz,
      steadyDb: random.chance(0.7) ? random.between(-10, 3) : null,
      humDb: random.between(-12, 6),
      highPassHz: random.between(70, 150),
      roomSeconds: random.chance(0.6) ? random.between(0.2, 0.7) : 0,
      gainControl: random.chance(0.4),
      clicks: random.chance(0.4) ? random.between(0.2, 3) : 0,
      otherLines: random.chance(0.5)
        ? [
            [random.between(0.67, 0.74), depth * random.between(0.2, 0.8)],
            [random.pick([3.05, 3.58, 4.95, 5.4]), depth * random.between(0.3, 1)],
          ]
        : [],
    },
  };
}
