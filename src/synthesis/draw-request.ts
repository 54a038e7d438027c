import { createRandom, type Random } from "../foundation/random.js";
import {
  MACHINE_PROFILES,
  type Component,
  type MachineProfileId,
  type Phase,
} from "../machine/words.js";
import { WasherNoiseError } from "../foundation/errors.js";
import { CELLS } from "./cells.data.js";
import { OTHER_SOUND_KINDS } from "./other-sounds/kinds.js";
import type { ClipRequest } from "./request.js";

/** Limits on what is drawn; all that is left out is free. */
export interface DrawConstraints {
  readonly machine?: MachineProfileId;
  readonly phase?: Phase;
  /** The fault to make. */
  readonly fault?: Component;
  /** Share of machines in order, 0 to 1. @defaultValue 0.3 */
  readonly normalShare?: number;
  /** Share of sounds that are no washer, 0 to 1. @defaultValue 0.05 */
  readonly otherShare?: number;
  /** Share of faulty machines with a second fault, 0 to 1. @defaultValue 0 */
  readonly secondFaultShare?: number;
  /** @defaultValue 15 */
  readonly durationSeconds?: number;
  /** @defaultValue drawn from 0 to 12 */
  readonly faultToBackgroundDb?: number;
}

/** One faulty part on one kind of washer in one phase. */
export interface FaultCell {
  readonly component: Component;
  readonly machine: MachineProfileId;
  readonly phase: Phase;
}

/** Every place where a fault can be heard: part by kind of washer by phase. */
export const faultCells = (): FaultCell[] =>
  CELLS.flatMap(({ component, machines, phases }) =>
    machines.flatMap((machine) => phases.map((phase) => ({ component, machine, phase }))),
  );

function fittingCells({ machine, phase, fault }: DrawConstraints): FaultCell[] {
  return faultCells().filter(
    (cell) =>
      (!machine || cell.machine === machine) &&
      (!phase || cell.phase === phase) &&
      (!fault || cell.component === fault),
  );
}

function drawFaulty(random: Random, wanted: DrawConstraints): FaultCell & { extra: Component[] } {
  const cells = fittingCells(wanted);
  if (cells.length === 0) {
    throw new WasherNoiseError(
      "out-of-range",
      `No such fault is heard there: ${wanted.fault ?? "any part"} on ${wanted.machine ?? "any washer"} in ${wanted.phase ?? "any phase"}. Leave one of the three free.`,
      { ...wanted },
    );
  }
  // Parts come first, so that one heard on many machines is not made more often than a rare one.
  const component = random.pick([...new Set(cells.map((cell) => cell.component))]);
  const cell = random.pick(cells.filter((one) => one.component === component));
  const others = fittingCells({ machine: cell.machine, phase: cell.phase }).filter(
    (one) => one.component !== component,
  );
  const second = random.chance(wanted.secondFaultShare ?? 0) && others.length > 0;
  return { ...cell, extra: second ? [random.pick(others).component] : [] };
}

/**
 * Draws a plausible clip to make: a washer, a phase, and a fault that is heard there, or none, or a
 * sound that is no washer. Throws `out-of-range` when the constraints leave nothing.
 */
export function drawRequest(random: Random, constraints: DrawConstraints = {}): ClipRequest {
  const common = {
    seed: random.integer(1, 2_000_000_000),
    ...(constraints.durationSeconds ? { durationSeconds: constraints.durationSeconds } : {}),
    ...(constraints.faultToBackgroundDb === undefined
      ? {}
      : { faultToBackgroundDb: constraints.faultToBackgroundDb }),
  };
  const machine = constraints.machine ?? random.pick(MACHINE_PROFILES);
  const lot = random.uniform();
  const otherShare = constraints.fault ? 0 : (constraints.otherShare ?? 0.05);
  const normalShare = constraints.fault ? 0 : (constraints.normalShare ?? 0.3);
  if (lot < otherShare) {
    const otherSound = random.pick(OTHER_SOUND_KINDS);
    return { ...common, machine, phase: "unknown", faults: [], otherSound };
  }
  if (lot < otherShare + normalShare) {
    const phase =
      constraints.phase ?? random.pick(["fill", "wash", "wash", "drain", "spin", "spin", "coast"]);
    return { ...common, machine, phase, faults: [] };
  }
  const { component, extra, ...where } = drawFaulty(random, constraints);
  return { ...common, machine: where.machine, phase: where.phase, faults: [component, ...extra] };
}

/** Draws `count` requests; request i is the same whatever the count. */
export function drawRequests(
  seed: number,
  count: number,
  constraints: DrawConstraints = {},
): ClipRequest[] {
  const random = createRandom(seed);
  return Array.from({ length: count }, (_, i) =>
    drawRequest(random.fork(`clip ${i}`), constraints),
  );
}
