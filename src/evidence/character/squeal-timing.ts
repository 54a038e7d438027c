import { clamp } from "../../foundation/statistics.js";
import { decoyPValue } from "../../foundation/significance.js";
import { turnsAt } from "../../signal/angular.js";
import type { ListeningContext } from "../context.js";
import type { Measurement } from "../evidence.js";
import { measured, missing } from "../measurement.js";
import { driveStarts, slopeAt } from "./speed-course.js";
import type { Squeal } from "./squeal-ridges.js";

/** A squeal of torque comes within this time of the start of the drive. */
const START_SECONDS = 4;
/** Relative change of speed per second from which the drum is slowing down. */
const SLOWING_PER_SECOND = -0.02;
const LEAST_TURNS = 12;
const BLOCK_TURNS = 20;

function shareOfTime(
  squeals: readonly Squeal[],
  holds: (seconds: number) => boolean | null,
): number | null {
  let inside = 0;
  let known = 0;
  for (const { startSeconds, endSeconds } of squeals) {
    for (let time = startSeconds; time < endSeconds; time += 0.05) {
      const answer = holds(time);
      if (answer === null) continue;
      known++;
      if (answer) inside++;
    }
  }
  return known === 0 ? null : inside / known;
}

/** Share of squealing time within 4 s of a start of the drive. */
export function shareAtStart(
  context: ListeningContext,
  squeals: readonly Squeal[],
  quality: number,
): Measurement {
  if (context.speed.drumRpm === null) return missing("speed");
  const starts = driveStarts(context.speed);
  if (starts.length === 0) return missing("phase");
  const share = shareOfTime(squeals, (time) =>
    starts.some((start) => time >= start - 0.5 && time <= start + START_SECONDS),
  );
  return share === null ? missing("speed") : measured(share, quality);
}

/** Share of squealing time in which the drum loses over 2 % of its speed a second. */
export function shareAtSlowing(
  context: ListeningContext,
  squeals: readonly Squeal[],
  quality: number,
): Measurement {
  // A run-down slows from beginning to end.
  if (context.toldPhase === "coast") return measured(1, quality);
  if (context.speed.drumRpm === null) return missing("speed");
  const share = shareOfTime(squeals, (time) => {
    const slope = slopeAt(context.speed, time);
    return slope === null ? null : slope < SLOWING_PER_SECOND;
  });
  return share === null ? missing("speed") : measured(share, quality);
}

/** Σ over blocks of |Σ e^(2πi o θ)|² / n of the moments in which it squeals. */
function gating(turns: readonly number[], order: number): number {
  const blocks = new Map<number, { re: number; im: number; n: number }>();
  for (const turn of turns) {
    const key = Math.floor(turn / BLOCK_TURNS);
    const block = blocks.get(key) ?? { re: 0, im: 0, n: 0 };
    block.re += Math.cos(2 * Math.PI * order * turn);
    block.im += Math.sin(2 * Math.PI * order * turn);
    block.n++;
    blocks.set(key, block);
  }
  let sum = 0;
  for (const { re, im, n } of blocks.values()) sum += (re * re + im * im) / n;
  return sum;
}

/**
 * p-value that the squeal comes once per drum turn: the phases of its moments at order 1 against those at
 * orders that no part of the drum makes. Missing when the drum turns faster than ridges can be told
 * apart (3 turns a second) or too seldom.
 */
export function gatedOncePerTurn(
  context: ListeningContext,
  squeals: readonly Squeal[],
): Measurement {
  const clock = context.drumClock;
  if (clock === null || context.speed.drumRpm === null) return missing("speed");
  if (context.speed.drumRpm.value > 180) return missing("band");
  const turns: number[] = [];
  for (const { ridge, startSeconds, endSeconds } of squeals) {
    const step = (endSeconds - startSeconds) / ridge.points.length;
    ridge.points.forEach((_, i) => turns.push(turnsAt(clock, startSeconds + (i + 0.5) * step)));
  }
  if (turns.length === 0) return missing("no-events");
  const covered = turns[turns.length - 1]! - turns[0]!;
  if (covered < LEAST_TURNS || squeals.length < 5) return missing("no-events");
  const decoys: number[] = [];
  for (let order = 0.6; order < 1.9; order += 0.02) {
    if (Math.abs(order - 1) > 0.12 && Math.abs(order - 1.5) > 0.05)
      decoys.push(gating(turns, order));
  }
  return measured(decoyPValue(gating(turns, 1), decoys), clamp(squeals.length / 15, 0, 1));
}

/** Chance of at least k of n when each has chance p. */
function binomialTail(n: number, k: number, p: number): number {
  let term = (1 - p) ** n;
  let below = 0;
  for (let i = 0; i < k; i++) {
    below += term;
    term *= ((n - i) / (i + 1)) * (p / (1 - p));
  }
  return clamp(1 - below, 1e-12, 1);
}

/** p-value that squeals begin within 0.6 s of a start of the drive more often than by chance. */
export function nearReversals(context: ListeningContext, squeals: readonly Squeal[]): Measurement {
  const starts = driveStarts(context.speed);
  if (starts.length < 3) return missing(context.speed.drumRpm === null ? "speed" : "no-events");
  if (squeals.length < 3) return missing("no-events");
  const reach = 0.6;
  const chance = clamp((2 * reach * starts.length) / context.recording.durationSeconds, 0.01, 0.9);
  const near = squeals.filter(({ startSeconds }) =>
    starts.some((start) => Math.abs(start - startSeconds) < reach),
  ).length;
  return measured(binomialTail(squeals.length, near, chance), clamp(squeals.length / 6, 0, 1));
}
