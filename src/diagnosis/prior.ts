import { clamp } from "../foundation/statistics.js";
import type { MachineProfile, Washer } from "../machine/profile.js";
import { COMPONENTS, type Component } from "../machine/words.js";
import {
  NORMAL_PRIOR,
  OTHER_PRIOR,
  PRIORS,
  PRIOR_EXPONENT,
  RARE_WEIGHT,
  UNKNOWN_AGE_SHARES,
  type PriorColumn,
} from "./data/priors.data.js";

function columnOf(profile: MachineProfile): PriorColumn {
  if (profile.axis === "horizontal") {
    return profile.drive === "direct" ? "front-load-direct" : "front-load-belt";
  }
  return profile.pumpDrivenBy === "wash-motor" ? "top-load-older" : "top-load";
}

function ageShares(ageYears: number | undefined): readonly number[] {
  if (ageYears === undefined) return UNKNOWN_AGE_SHARES.shares;
  if (ageYears < 3) return [1, 0, 0];
  return ageYears < 8 ? [0, 1, 0] : [0, 0, 1];
}

function normalChance(ageYears: number | undefined): number {
  if (ageYears === undefined) return NORMAL_PRIOR.unknownAge;
  return NORMAL_PRIOR.rows.find((row) => ageYears < row.belowYears)!.chance;
}

function faultWeight(component: Component, washer: Washer, shares: readonly number[]): number {
  const row = PRIORS.find((prior) => prior.component === component);
  if (!row) return 0;
  const owners = washer.profiles.filter((profile) => profile.components.includes(component));
  let sum = 0;
  for (const profile of owners) {
    const weights = row.weights[columnOf(profile)];
    // A part that the profile has but the column leaves out is rare there, not impossible.
    sum += Math.max(
      RARE_WEIGHT.value,
      weights.reduce((total, weight, i) => total + weight * shares[i]!, 0),
    );
  }
  return sum / washer.profiles.length;
}

export interface Circumstances {
  readonly ageYears?: number;
  /** Factors on single parts from what the customer tells, such as "just moved". */
  readonly factors?: Readonly<Partial<Record<Component, number>>>;
}

/**
 * Chance of each part before anything is heard. Sums to 1; parts the washer does not have are left out.
 *
 * Faults share 1 - P(normal) - P(other) in proportion to weight^exponent (see `PRIOR_EXPONENT`).
 */
export function priorOf(washer: Washer, circumstances: Circumstances): Map<Component, number> {
  const shares = ageShares(circumstances.ageYears);
  const weights = COMPONENTS.map((component) => {
    const factor = circumstances.factors?.[component] ?? 1;
    return [
      component,
      factor * faultWeight(component, washer, shares) ** PRIOR_EXPONENT.value,
    ] as const;
  }).filter(([, weight]) => weight > 0);
  const total = weights.reduce((sum, [, weight]) => sum + weight, 0);
  const normal = clamp(normalChance(circumstances.ageYears), 0, 0.9);
  const faulty = 1 - normal - OTHER_PRIOR.chance;
  const prior = new Map<Component, number>(
    weights.map(([component, weight]) => [component, (faulty * weight) / total]),
  );
  prior.set("normal", normal);
  prior.set("other", OTHER_PRIOR.chance);
  return prior;
}
