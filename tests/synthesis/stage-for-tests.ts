import { createRandom } from "../../src/foundation/random.js";
import type { MachineProfileId, Phase } from "../../src/machine/words.js";
import { moveWasher } from "../../src/synthesis/motion/motion.js";
import type { Need } from "../../src/synthesis/motion/programme-wish.js";
import { drawProgramme } from "../../src/synthesis/motion/programmes.js";
import { controlCount } from "../../src/synthesis/sound/rate.js";
import type { Stage } from "../../src/synthesis/stage.js";
import { drawWasher, type DrawnWasher } from "../../src/synthesis/washer/drawn-washer.js";

interface StageWish {
  readonly seed?: number;
  readonly machine: MachineProfileId;
  readonly phase: Phase;
  readonly seconds?: number;
  readonly washer?: Partial<DrawnWasher>;
  readonly needs?: readonly Need[];
  /** Holds the drum at exactly this speed for the whole clip. */
  readonly steadyRpm?: number;
}

/** A stage with chosen numbers, to check one source of sound against its closed form. */
export function stageFor(wish: StageWish): Stage {
  const random = createRandom(wish.seed ?? 1);
  const washer = { ...drawWasher(wish.machine, random.fork("washer")), ...wish.washer };
  const sampleCount = Math.round((wish.seconds ?? 10) * 48_000);
  const drawn = drawProgramme(wish.phase, {
    washer,
    random: random.fork("motion"),
    sampleCount,
    needs: wish.needs ?? [],
    drumRpm: wish.steadyRpm ?? null,
    lineHz: 50,
  });
  const constant = (value: number) => new Float64Array(controlCount(sampleCount)).fill(value);
  const programme = wish.steadyRpm
    ? { ...drawn, drumHz: constant(wish.steadyRpm / 60), powered: constant(1), torque: constant(0) }
    : drawn;
  return {
    random,
    washer,
    phase: wish.phase,
    lineHz: 50,
    sampleCount,
    motion: moveWasher(programme, washer, sampleCount),
  };
}
