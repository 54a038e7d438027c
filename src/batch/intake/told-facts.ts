import { complaintFacts, wornYears } from "../../diagnosis/complaint.js";
import type { ComplaintFact } from "../../diagnosis/data/complaint.data.js";
import type { ClipSettings } from "../triage/clip-task.js";
import type { IntakeFacts } from "./intake-cells.js";

const LEAK_FACTS: Readonly<Record<NonNullable<IntakeFacts["leak"]>, readonly ComplaintFact[]>> = {
  no: [],
  none: [],
  // Where the water comes from was not asked: under the machine is the common case.
  yes: ["leak"],
  rear: ["leak"],
  under: ["leak"],
  // Door, hose or drawer: it says nothing of the bearing.
  front: [],
  rust: ["leak", "rust"],
  oil: ["oil"],
};

/** All that a row tells of the cause, from its columns and from the customer's words. A column outranks words. */
export function toldFacts(facts: IntakeFacts): ComplaintFact[] {
  const said = new Set(facts.complaint === undefined ? [] : complaintFacts(facts.complaint));
  if (facts.moved === false && facts.new !== true) said.delete("moved-or-new");
  if (facts.moved === true || facts.new === true) said.add("moved-or-new");
  if (facts.leak === "no" || facts.leak === "none") {
    for (const fact of ["leak", "rust", "oil"] as const) said.delete(fact);
  }
  for (const fact of facts.leak === undefined ? [] : LEAK_FACTS[facts.leak]) said.add(fact);
  return [...said].sort();
}

/** Settings for one recording: what its row tells goes before what was told for all. */
export function settingsWith(facts: IntakeFacts, all: ClipSettings): ClipSettings {
  const age = facts.age_years ?? all.ageYears;
  return {
    machine: facts.machine ?? all.machine,
    phase: facts.phase ?? all.phase,
    drumRpm: facts.drum_rpm ?? all.drumRpm,
    motorRpm: facts.motor_rpm ?? all.motorRpm,
    lineHz: facts.line_hz ?? all.lineHz,
    ageYears: age === null ? null : wornYears(age, facts.loads_per_week),
    told: toldFacts(facts),
  };
}
