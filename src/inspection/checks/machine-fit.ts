import type { Washer } from "../../machine/profile.js";
import { componentsOf } from "../../machine/washers.js";
import type { Audience, HandTest } from "./hand-test.js";
import { HAND_TESTS, pointsOf } from "./hand-tests.js";

const RANK: Readonly<Record<Audience, number>> = { customer: 0, technician: 1, licensed: 2 };

/** Whether somebody may do the test; nobody but a customer's own tests is ever open to customers. */
export const mayDo = (test: HandTest, audience: Audience): boolean =>
  RANK[test.who] <= RANK[audience];

/** Whether the washer, or a member of the family, has what the test looks at. */
function fits(test: HandTest, washer: Washer): boolean {
  const { axis } = test;
  if (axis && washer.profiles.some((profile) => profile.axis !== axis)) return false;
  return washer.profiles.some(
    (profile) =>
      (test.needsPart === undefined || profile.components.includes(test.needsPart)) &&
      (test.motors?.includes(profile.motor.kind) ?? true),
  );
}

/** Tests that make sense on the washer: it has what they look at, and a part they can point at. */
export function testsForWasher(washer: Washer): HandTest[] {
  const parts = componentsOf(washer);
  return HAND_TESTS.filter(
    (test) => fits(test, washer) && pointsOf(test).some((part) => parts.includes(part)),
  );
}
