import { interpolateYlGnBu } from "d3-scale-chromatic";
import type { Confusion } from "../../evaluation/confusion.js";
import { html, type Markup } from "../html/markup.js";
import { drawing, label, px, textWidth } from "./svg.js";

/** Columns that a narrow drawing holds. */
const MOST_COLUMNS_NARROW = 6;

/** A table of counts to draw; `right` says which cells agree with the truth. */
interface Drawn extends Confusion {
  readonly right: (row: string, column: string) => boolean;
}

const RIGHT = "right";

/** For narrow drawings: right answers in one column, then the most frequent wrong ones, then the rest. */
function narrowed({ rows, columns, counts }: Confusion): Drawn {
  const wrong = counts.map((row, r) => row.map((n, c) => (rows[r] === columns[c] ? 0 : n)));
  const sum = (values: readonly number[]): number => values.reduce((total, n) => total + n, 0);
  const totals = columns.map((_, c) => sum(wrong.map((row) => row[c]!)));
  const kept = columns
    .map((_, c) => c)
    .filter((c) => totals[c]! > 0)
    .sort((a, b) => totals[b]! - totals[a]!)
    .slice(0, MOST_COLUMNS_NARROW - 2);
  return {
    rows,
    columns: [RIGHT, ...kept.map((c) => columns[c]!), "all others"],
    counts: counts.map((row, r) => {
      const own = kept.map((c) => wrong[r]![c]!);
      return [sum(row) - sum(wrong[r]!), ...own, sum(wrong[r]!) - sum(own)];
    }),
    right: (_, column) => column === RIGHT,
  };
}

const whole = (confusion: Confusion): Drawn => ({
  ...confusion,
  right: (row, column) => row === column,
});

interface Cell {
  readonly count: number;
  /** Share of its row. */
  readonly share: number;
  readonly right: boolean;
}

function cellMarkup(
  { count, share, right }: Cell,
  x: number,
  y: number,
  size: readonly [number, number],
) {
  const fill = count === 0 ? "#f3f2ee" : interpolateYlGnBu(0.12 + 0.75 * share);
  const name = `value${share > 0.5 ? " on-dark" : ""}`;
  return html`<rect
      x="${px(x + 1)}"
      y="${px(y + 1)}"
      width="${px(size[0] - 2)}"
      height="${px(size[1] - 2)}"
      fill="${fill}"
      class="${right ? "cell right" : "cell"}"
    />${count > 0 ? label(x + size[0] / 2, y + size[1] / 2 + 5, String(count), { anchor: "middle", name }) : null}`;
}

const names = (labels: readonly string[], size: number): number =>
  labels.reduce((most, text) => Math.max(most, textWidth(text, size)), 0);

/** Truth in rows, answers in columns; darker: a larger share of the row; framed: right. */
export function confusionPicture(confusion: Confusion, width: number): Markup {
  const small = width < 500;
  const { rows, columns, counts, right } =
    small && confusion.columns.length > MOST_COLUMNS_NARROW
      ? narrowed(confusion)
      : whole(confusion);
  const left = Math.min(1.15 * names(rows, 12) + 10, small ? 112 : 170);
  const slant = names(columns, 12);
  const top = 0.72 * slant + 16;
  const cellWidth = Math.min(64, (width - left - (small ? 24 : 0.72 * slant)) / columns.length);
  const cellHeight = 24;
  const cells = rows.map((row, r) => {
    const total = counts[r]!.reduce((sum, n) => sum + n, 0);
    const y = top + r * cellHeight;
    return html`${label(left - 6, y + 16, row, { anchor: "end" })}${columns.map((column, c) => {
      const count = counts[r]![c]!;
      const cell = { count, share: total > 0 ? count / total : 0, right: right(row, column) };
      return cellMarkup(cell, left + c * cellWidth, y, [cellWidth, cellHeight]);
    })}`;
  });
  const heads = columns.map((column, c) => {
    const x = left + (c + 0.5) * cellWidth;
    return html`<text
      transform="translate(${px(x)} ${px(top - 6)}) rotate(-46)"
      class="tick"
      text-anchor="start"
      >${column}</text
    >`;
  });
  return drawing(
    { width, height: top + rows.length * cellHeight + 4 },
    `Answers in columns against the truth in ${rows.length} rows; the table below lists all counts.`,
    html`${heads}${cells}`,
  );
}
