import { scaleLinear } from "d3-scale";
import { hundredInWords, percent } from "../../foundation/chance-words.js";
import { html, type Markup } from "../html/markup.js";
import { bottomAxis } from "./axes.js";
import { box, drawing, label, rule, textWidth, type Frame } from "./svg.js";

export interface RankingBar {
  readonly name: string;
  /** Chances, 0 to 1. */
  readonly chance: number;
  readonly low: number;
  readonly high: number;
}

/** How many of the first bars hold the cause, and with what chance. */
export interface RankingSet {
  readonly size: number;
  readonly cover: number;
}

/** Room for the words below the line of the set, px. */
const SET_ROOM = 20;

/** A line below the bars of the set, and what it says, in a gap of its own. */
function setLine({ size, cover }: RankingSet, row: number, frame: Frame): Markup {
  const y = frame.top + size * row + 2;
  const says = `the cause is above this line in ${hundredInWords(cover)} of 100 cases`;
  return html`${rule([0, y], [frame.width, y], "ideal")}${label(frame.width, y + 13, says, {
    anchor: "end",
    name: "note",
  })}`;
}

/** Chances of the parts with their intervals; names stand above the bars on narrow screens. */
export function rankingPicture(
  bars: readonly RankingBar[],
  width: number,
  set?: RankingSet,
): Markup {
  const small = width < 500;
  const row = small ? 44 : 30;
  const shownSet = set !== undefined && set.size <= bars.length ? set : undefined;
  const gap = shownSet === undefined ? 0 : SET_ROOM;
  const frame: Frame = {
    width,
    height: 10 + bars.length * row + gap + 44,
    left: small ? 8 : 20 + Math.max(...bars.map(({ name }) => textWidth(name, 13.5))),
    right: width - 56,
    top: 10,
    bottom: 10 + bars.length * row + gap,
  };
  const x = scaleLinear([0, 1], [frame.left, frame.right]);
  const rows = bars.map(({ name, chance, low, high }, i) => {
    const below = shownSet !== undefined && i >= shownSet.size ? gap : 0;
    const middle = frame.top + i * row + below + (small ? 31 : row / 2);
    const title = small
      ? label(frame.left, middle - 13, name, { name: "part" })
      : label(frame.left - 10, middle + 4, name, { anchor: "end", name: "part" });
    return html`${title}${box(x(0), middle - 6, [x(chance) - x(0), 12], "bar")}${rule([x(low), middle], [x(high), middle], "whisker")}${rule([x(low), middle - 5], [x(low), middle + 5], "whisker")}${rule([x(high), middle - 5], [x(high), middle + 5], "whisker")}${label(Math.max(x(high), x(chance)) + 7, middle + 4, percent(chance), { name: "value" })}`;
  });
  return drawing(
    frame,
    `Chances of ${bars.length} parts: ${bars.map(({ name, chance }) => `${name} ${percent(chance)}`).join(", ")}.`,
    html`${bottomAxis(x, frame, { unit: "chance, %", ticks: [0, 0.25, 0.5, 0.75, 1], format: (v) => String(Math.round(100 * v)) })}${rows}${shownSet === undefined ? null : setLine(shownSet, row, frame)}`,
  );
}
