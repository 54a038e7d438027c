import type { ComplaintFact } from "../../diagnosis/data/complaint.data.js";
import { namesPart, type Verdict } from "../../machine/words.js";
import { stopUseFor, unsafeToSpin } from "../cautions.js";
import type { PartChance } from "../checks/weigh-findings.js";
import { STOP_TRIGGERS, URGENT_FROM } from "./urgency.data.js";

/**
 * How pressing a case is, worst first. `stop-use`: the machine must not run until somebody has looked.
 * `soon`: it may have to be stopped, which a question or a look decides. `routine`: a repair in its turn.
 * `none`: nothing presses, or nothing is known.
 */
export const URGENCIES = ["stop-use", "soon", "routine", "none"] as const;
export type UrgencyLabel = (typeof URGENCIES)[number];

export interface Urgency {
  readonly label: UrgencyLabel;
  /** Why, one short sentence each. */
  readonly reasons: readonly string[];
}

/** What urgency is judged from; no parts and no verdict where the recording could not be read. */
export interface UrgencyInput {
  readonly components: readonly PartChance[];
  readonly verdict: Verdict | null;
  readonly told: readonly ComplaintFact[];
}

function toldTriggers({ components, told }: UrgencyInput): string[] {
  const likely = components
    .filter((row) => row.probability >= URGENT_FROM.value)
    .map((row) => row.component);
  return STOP_TRIGGERS.filter(
    ({ facts, withPart }) =>
      facts.every((fact) => told.includes(fact)) &&
      (withPart === undefined || withPart.some((part) => likely.includes(part))),
  ).map((row) => row.text);
}

/** Urgency of one case. What a customer tells counts even when the recording carries no answer. */
export function urgencyOf(input: UrgencyInput): Urgency {
  const { verdict } = input;
  const heard = verdict === null || verdict === "not-a-washer" ? [] : input.components;
  const told = toldTriggers({ ...input, components: heard });
  const warnings = stopUseFor(heard);
  if (told.length > 0 || unsafeToSpin(heard)) {
    return { label: "stop-use", reasons: [...told, ...warnings] };
  }
  const ranked = verdict !== null && namesPart(verdict);
  if (warnings.length > 0) return { label: ranked ? "soon" : "none", reasons: warnings };
  return { label: ranked ? "routine" : "none", reasons: [] };
}
