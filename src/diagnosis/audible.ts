import type { Washer } from "../machine/profile.js";
import type { Component } from "../machine/words.js";
import { CALIBRATION } from "./data/calibration.data.js";
import { PHASE_LIKELIHOOD } from "./data/phase-likelihood.data.js";
import type { KnownPhase } from "./view.js";

const audibleRows = new Map(PHASE_LIKELIHOOD.map((row) => [row.component, row]));

/** Chance that the part's fault is heard in a phase, floored. */
export function audibleChance(component: Component, phase: KnownPhase, washer: Washer): number {
  const { audible, vertical } = audibleRows.get(component)!;
  const topLoader = washer.profiles.every((profile) => profile.axis === "vertical");
  const row = topLoader ? { ...audible, ...vertical } : audible;
  return Math.max(CALIBRATION.phaseFloor, row[phase]);
}

/**
 * How much a view can say of a part, 0 to 1: a part that is seldom heard in a phase is neither
 * accused nor cleared by what is heard there.
 */
export const say = (chance: number): number => Math.min(1, chance / CALIBRATION.fullSayFrom);
