import type { DiagnosedComponent } from "../diagnosis/diagnose.js";
import type { Component, Verdict } from "../machine/words.js";
import { SEPARATING_CHECKS } from "./data/separating-checks.data.js";
import type { NextCheck } from "./next-check.js";

const separates = (
  row: { readonly positive: readonly Component[] },
  a: Component,
  b: Component,
): boolean => row.positive.includes(a) !== row.positive.includes(b);

/**
 * The check that best tells the two likeliest faults apart, then one that confirms the first.
 * Checks are ordered in the table as a careful technician would prefer them, cheapest access first.
 */
export function nextChecksFor(
  components: readonly DiagnosedComponent[],
  verdict: Verdict,
): NextCheck[] {
  if (verdict === "not-a-washer" || verdict === "record-again") return [];
  const faults = components.filter(
    (row) => row.component !== "normal" && row.component !== "other",
  );
  const [first, second] = faults;
  if (!first || !second) return [];
  const rows = SEPARATING_CHECKS.filter((row) => separates(row, first.component, second.component));
  const both = rows[0];
  const confirm = SEPARATING_CHECKS.find(
    (row) => row !== both && row.positive.includes(first.component),
  );
  return [both, confirm]
    .filter((row) => row !== undefined)
    .map((row) => ({
      check: row.check,
      text: row.text,
      minutes: row.minutes,
      audience: row.audience,
      separates: [first.component, second.component],
    }));
}
