import {
  symbol,
  symbolCircle,
  symbolCross,
  symbolDiamond,
  symbolSquare,
  symbolStar,
  symbolTimes,
  symbolTriangle,
  symbolWye,
  type SymbolType,
} from "d3-shape";
import type { LineFamily } from "../../answer/picture-data.js";
import { html, type Markup } from "../html/markup.js";
import { px } from "./svg.js";

// Told apart by shape, so that grey print and every eye can.
const SHAPES: Readonly<Record<LineFamily, SymbolType>> = {
  drum: symbolCircle,
  bearing: symbolDiamond,
  belt: symbolSquare,
  motor: symbolTriangle,
  gear: symbolCross,
  pump: symbolWye,
  mains: symbolTimes,
  other: symbolStar,
};

export const FAMILY_WORDS: Readonly<Record<LineFamily, string>> = {
  drum: "drum",
  bearing: "bearings",
  belt: "belt",
  motor: "motor",
  gear: "gears",
  pump: "pump",
  mains: "mains",
  other: "other",
};

/** How surely a line was heard. */
export type Certainty = "heard" | "hint" | "not heard";

/** The family's sign at a place: dark when heard, grey when it stands out alone, else hollow. */
export function sign(family: LineFamily, x: number, y: number, certainty: Certainty): Markup {
  const heard = certainty === "heard";
  const stroked = heard && SHAPES[family] === symbolTimes ? " stroked" : "";
  const name = certainty === "not heard" ? "sign" : `sign ${certainty}${stroked}`;
  const shape = symbol(SHAPES[family], heard ? 70 : 42).digits(1)() ?? "";
  return html`<path transform="translate(${px(x)} ${px(y)})" d="${shape}" class="${name}" />`;
}

/** Moves labels apart to at least `gap`, keeping their order, within the limits. Shape as the input. */
export function spreadOut(
  places: readonly number[],
  gap: number,
  [low, high]: readonly [number, number],
): number[] {
  const order = places.map((_, i) => i).sort((a, b) => places[a]! - places[b]!);
  const out = [...places];
  let last = low - gap;
  for (const i of order) {
    out[i] = Math.max(places[i]!, last + gap);
    last = out[i]!;
  }
  let next = high + gap;
  for (const i of order.reverse()) {
    out[i] = Math.min(out[i]!, next - gap);
    next = out[i]!;
  }
  return out;
}
