import type { Component } from "../machine/words.js";
import { COMPONENT_NAMES } from "./data/component-names.data.js";

/** Things that are met, not parts that every machine has. */
const MET: readonly Component[] = ["foreign-object", "unbalanced-load", "loose-panel"];

/** The part inside a sentence: "the drum bearing", "a loose panel", "an unbalanced load". */
export function partInSentence(component: Component): string {
  const name = COMPONENT_NAMES[component];
  // `normal` and `other` bring their own first word.
  if (component === "normal" || component === "other") return name;
  if (!MET.includes(component)) return `the ${name}`;
  return `${/^[aeiou]/.test(name) ? "an" : "a"} ${name}`;
}
