import type { Washer } from "../../machine/profile.js";
import type { Component } from "../../machine/words.js";
import { outcomeChance } from "../checks/hand-tests.js";
import type { KnownFinding, PartChance } from "../checks/weigh-findings.js";
import { QUOTE_CHECKS } from "../economics/economics.data.js";

/** A finding confirms a part when the part would show it at least this often. */
const SHOWS_FROM = 0.5;
/** And when, all findings weighed, the part is likelier than not. */
const LEADS_FROM = 0.5;

const has = (machine: Washer, component: Component): boolean =>
  machine.profiles.some(({ components }) => components.includes(component));

/** Tests without which nobody should speak of a bearing; on old coupled drives the hand spin must do. */
function strictChecks(component: Component, machine: Washer): readonly string[] | null {
  const row = QUOTE_CHECKS.find((one) => one.component === component);
  if (!row) return null;
  const canTakeDriveOff = has(machine, "drive-belt") || has(machine, "rotor-stator");
  return canTakeDriveOff ? row.checks : [...row.checks, ...row.withoutBelt];
}

/** Tests still open of which one must point at a part before a price is said of it. */
export function testsBeforeQuote(
  component: Component,
  machine: Washer,
  confirmed: readonly Component[],
  open: readonly { readonly check: string }[],
): string[] {
  if (confirmed.includes(component)) return [];
  const strict = strictChecks(component, machine) ?? [];
  return open.map(({ check }) => check).filter((check) => strict.includes(check));
}

/**
 * Parts that a hand test has confirmed: some finding points at the part, the part would show it at least
 * every second time, and with all findings weighed its chance is 0.5 or more. Bearing and spider need
 * the test with the drive taken off.
 */
export function confirmedParts(
  ranking: readonly PartChance[],
  findings: readonly KnownFinding[],
  machine: Washer,
): Component[] {
  return ranking
    .filter(({ component, probability }) => {
      if (probability < LEADS_FROM) return false;
      const strict = strictChecks(component, machine);
      return findings.some(
        ({ test, outcome }) =>
          outcome.points.includes(component) &&
          outcomeChance(test, outcome, component) >= SHOWS_FROM &&
          (strict === null || strict.includes(test.check)),
      );
    })
    .map(({ component }) => component);
}
