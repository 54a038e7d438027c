import type { Character, Component } from "../machine/words.js";
import { CHARACTER_LIKELIHOOD } from "./data/character-likelihood.data.js";

const rows = new Map(CHARACTER_LIKELIHOOD.map((row) => [row.component, row.sounds]));

/** Chance of each character when a part makes the noise; sums to 1. */
export const soundsOfPart = (component: Component): Readonly<Record<Character, number>> =>
  rows.get(component)!;
