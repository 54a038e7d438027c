import type { Component } from "../../machine/words.js";
import type { HandTest } from "./hand-test.js";

/** Drives of which a machine has one, by the part that only they have. */
const DRIVES: readonly { readonly part: Component; readonly words: string }[] = [
  { part: "drive-belt", words: "On a belt drive" },
  { part: "rotor-stator", words: "On a direct drive" },
  { part: "motor-coupling", words: "On a drive with a motor coupling" },
];

/**
 * What to do in a test. Where the machine's kind leaves the drive open, a test that only one drive has says
 * so: nobody looks for a belt that is not there.
 */
export function howOnDrive({ how, needsPart }: HandTest, parts: readonly Component[]): string {
  const possible = DRIVES.filter(({ part }) => parts.includes(part));
  const own = possible.find(({ part }) => part === needsPart);
  if (own === undefined || possible.length < 2) return how;
  return `${own.words}: ${how.charAt(0).toLowerCase()}${how.slice(1)}`;
}
