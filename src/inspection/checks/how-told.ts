import { lower } from "../../foundation/first-letter.js";
import type { Component } from "../../machine/words.js";
import type { HandTest } from "./hand-test.js";

/** Drives of which a machine has one, by the part that only they have. */
const DRIVES: readonly { readonly part: Component; readonly words: string }[] = [
  { part: "drive-belt", words: "On a belt drive" },
  { part: "rotor-stator", words: "On a direct drive" },
  { part: "motor-coupling", words: "On a drive with a motor coupling" },
];

/**
 * What to do in a test, for a customer or a technician. Where the machine's kind leaves the drive open, a
 * test that only one drive has says so: nobody looks for a belt that is not there.
 */
export function howTold(
  { how, customerHow = how, needsPart }: HandTest,
  customer: boolean,
  parts: readonly Component[],
): string {
  if (customer) return customerHow;
  const possible = DRIVES.filter(({ part }) => parts.includes(part));
  const own = possible.find(({ part }) => part === needsPart);
  return own === undefined || possible.length < 2 ? how : `${own.words}: ${lower(how)}`;
}
