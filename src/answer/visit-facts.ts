import type { DiagnosedComponent } from "../diagnosis/diagnose.js";
import { handTestNamed } from "../inspection/checks/hand-tests.js";
import type { MachineEnd } from "../inspection/checks/hand-test.js";
import { accessOf, axisOf, type Axis } from "../inspection/checks/machine-access.js";
import type { NextCheck } from "../inspection/next-check.js";
import { openText } from "../inspection/next-step/next-step-wording.js";
import { partsToBring } from "../inspection/parts/parts-to-bring.js";
import type { Washer } from "../machine/profile.js";
import type { VisitFacts } from "./picture-data.js";

/** The end at which a check opens the machine; null when it opens nothing. */
function endOf({ check }: NextCheck, axis: Axis): MachineEnd | null {
  const access = accessOf(axis);
  const bits = access.bitsOf(handTestNamed(check).access);
  const row = access.rows.find((one, i) => bits & (1 << i) && one.access !== "moved-out");
  return row?.end ?? null;
}

function openFirst(checks: readonly NextCheck[], washer: Washer): string {
  const axis = axisOf(washer);
  const ends = checks.map((check) => endOf(check, axis ?? "vertical"));
  const before = ends.findIndex((end) => end !== null);
  if (before < 0) return "Nothing: these checks are done from outside.";
  return openText({ end: ends[before]!, before }, axis !== null, "technician");
}

/** What a visit after a diagnosis needs, before any hand finding. Null when there is nothing to check. */
export function visitFactsOf(
  components: readonly DiagnosedComponent[],
  checks: readonly NextCheck[],
  washer: Washer,
): VisitFacts | null {
  if (checks.length === 0) return null;
  const { bring, tools } = partsToBring(components, washer, {}, { confirmed: [] });
  return {
    openFirst: openFirst(checks, washer),
    bring: [...new Set(bring.flatMap(({ items }) => items))],
    tools,
  };
}
