import { scaleLinear } from "d3-scale";
import { percent } from "../../foundation/chance-words.js";
import { html, type Markup } from "../html/markup.js";
import { bottomAxis } from "./axes.js";
import { box, drawing, label, rule, textWidth, type Frame } from "./svg.js";

/** One situation: now, or after one outcome. */
export interface OutlookColumn {
  readonly title: string;
  /** How likely it is to come to this, in words; empty for what holds now. */
  readonly note: string;
  /** Shape as the parts, 0 to 1. */
  readonly chances: readonly number[];
}

export interface OutlookData {
  readonly parts: readonly string[];
  readonly columns: readonly OutlookColumn[];
}

const GAP = 14;
/** Room for the figure behind a bar. */
const FIGURE = 42;

function columnMarkup(
  { title, note, chances }: OutlookColumn,
  frame: Frame,
  middles: readonly number[],
): Markup {
  const x = scaleLinear([0, 1], [frame.left, frame.right - FIGURE]);
  const most = Math.max(...chances);
  return html`${label(frame.left, 16, title, { name: "strip" })}${label(frame.left, 32, note, { name: "note" })}${bottomAxis(
    x,
    { ...frame, right: frame.right - FIGURE },
    { unit: "chance, %", ticks: [0, 1], format: (v) => String(100 * v) },
  )}${chances.map((chance, i) => {
    const y = middles[i]!;
    const look = chance === most ? "share-1" : "bar";
    return html`${box(frame.left, y - 6, [x(chance) - frame.left, 12], look)}${label(x(chance) + 5, y + 4, percent(chance), { name: chance === most ? "value" : "tick" })}`;
  })}`;
}

/** Chances of the likeliest parts now and after each outcome of one check, side by side on one scale. */
export function outlookPicture({ parts, columns }: OutlookData, width: number): Markup {
  const small = width < 500;
  const row = small ? 42 : 27;
  const top = 44;
  const bottom = top + parts.length * row;
  const left = small ? 4 : 16 + Math.max(...parts.map((part) => textWidth(part, 13.5)));
  const each = (width - left - GAP * (columns.length - 1)) / columns.length;
  const middles = parts.map((_, i) => top + i * row + (small ? 28 : row / 2));
  const names = parts.map((part, i) =>
    small
      ? label(left, middles[i]! - 12, part, { name: "part" })
      : label(left - 12, middles[i]! + 4, part, { anchor: "end", name: "part" }),
  );
  const lanes = middles.map((y) => rule([left, y + row / 2], [width, y + row / 2], "lane"));
  const drawn = columns.map((column, c) => {
    const from = left + c * (each + GAP);
    const frame = { width, height: bottom, left: from, right: from + each, top, bottom };
    return columnMarkup(column, frame, middles);
  });
  const told = columns.map(
    ({ title, note, chances }) =>
      `${title}${note && ` (${note})`}: ${parts.map((part, i) => `${part} ${percent(chances[i]!)}`).join(", ")}`,
  );
  return drawing(
    { width, height: bottom + 40 },
    `Chances of the parts now and after each outcome. ${told.join(". ")}.`,
    html`${small ? null : lanes}${names}${drawn}`,
  );
}
