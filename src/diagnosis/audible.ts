import type { Washer } from "../machine/profile.js";
import { PHASES, type Component, type Phase } from "../machine/words.js";
import { CALIBRATION } from "./data/calibration.data.js";
import { PHASE_LIKELIHOOD } from "./data/phase-likelihood.data.js";
import type { PhaseView } from "./view.js";

const audibleRows = new Map(PHASE_LIKELIHOOD.map((row) => [row.component, row]));

/** Chance that the part's fault is heard in a phase, floored; no phase known: the mean over phases. */
export function audibleChance(component: Component, phase: Phase, washer: Washer): number {
  const { audible, vertical } = audibleRows.get(component)!;
  const topLoader = washer.profiles.every((profile) => profile.axis === "vertical");
  const row = topLoader ? { ...audible, ...vertical } : audible;
  if (phase !== "unknown") return Math.max(CALIBRATION.phaseFloor, row[phase]);
  const known = [row.wash, row.spin, row.drain, row.fill];
  return Math.max(CALIBRATION.phaseFloor, known.reduce((sum, p) => sum + p, 0) / known.length);
}

/** The same over all phases that a view may be, weighted by how likely each is. */
export function viewAudible(component: Component, view: PhaseView, washer: Washer): number {
  let chance = 0;
  for (const phase of PHASES) {
    chance += view.phaseShares[phase] * audibleChance(component, phase, washer);
  }
  return chance;
}

/**
 * How much a view can say of a part, 0 to 1: a part that is seldom heard in a phase is neither
 * accused nor cleared by what is heard there.
 */
export const say = (chance: number): number => Math.min(1, chance / CALIBRATION.fullSayFrom);
