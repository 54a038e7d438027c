import { priorOf } from "../../diagnosis/prior.js";
import type { Washer } from "../../machine/profile.js";
import { componentsOf } from "../../machine/washers.js";
import type { Component } from "../../machine/words.js";
import type { PartChance } from "../checks/weigh-findings.js";
import type { Job } from "../job/job.js";

/** What the chances before the findings stand on. */
export type Basis = "diagnosis" | "prior";

export interface StartingChances {
  readonly basis: Basis;
  /** Why it is that, in one sentence. */
  readonly text: string;
  /** Sorted, sums to 1: the washer's parts, `normal` and `other`. */
  readonly parts: readonly PartChance[];
}

/** A part that the washer has and the diagnosis does not list. */
const UNLISTED = 0.002;

function sorted(chances: ReadonlyMap<Component, number>): PartChance[] {
  const sum = [...chances.values()].reduce((a, b) => a + b, 0);
  return [...chances]
    .map(([component, chance]) => ({ component, probability: chance / sum }))
    .sort((a, b) => b.probability - a.probability);
}

function fromPrior(job: Job, washer: Washer, text: string): StartingChances {
  const { ageYears } = job.machine;
  const prior = priorOf(washer, ageYears === undefined ? {} : { ageYears });
  return { basis: "prior", text, parts: sorted(prior) };
}

/**
 * The chances before any finding: those of the job's diagnosis over the parts that the washer has, or,
 * where the sound gave no answer, how common each fault is on such a machine.
 */
export function startingChances(job: Job, washer: Washer): StartingChances {
  const { diagnosis } = job;
  if (!diagnosis) {
    return fromPrior(
      job,
      washer,
      "No recording was judged yet: this starts from how common faults are.",
    );
  }
  const { label } = diagnosis.verdict;
  if (label === "not-a-washer" || label === "record-again") {
    return fromPrior(
      job,
      washer,
      "The recordings gave no answer: this starts from how common faults are.",
    );
  }
  const heard = new Map(diagnosis.components.map((row) => [row.component, row.probability]));
  const chances = new Map(
    componentsOf(washer).map((part) => [part, Math.max(heard.get(part) ?? UNLISTED, 1e-6)]),
  );
  return { basis: "diagnosis", text: diagnosis.verdict.text, parts: sorted(chances) };
}
