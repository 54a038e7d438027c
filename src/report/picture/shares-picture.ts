import { hundredInWords } from "../../foundation/chance-words.js";
import { html, type Markup } from "../html/markup.js";
import { box, drawing, label, textWidth } from "./svg.js";

export interface ShareCell {
  readonly name: string;
  /** 0 to 1. */
  readonly chance: number;
  /** Class of its filling. */
  readonly look: "share-1" | "share-2" | "share-3" | "share-rest";
}

const HEIGHT = 35;

/**
 * Whole numbers that sum to a hundred; the last cell, what is left over, takes up the rounding.
 * Where all or none would be said of what is only nearly so, the words say that.
 */
function hundreds(cells: readonly ShareCell[]): string[] {
  const whole = cells.map(({ chance }) => Math.round(100 * chance));
  const before = whole.slice(0, -1).reduce((sum, n) => sum + n, 0);
  const summed = [...whole.slice(0, -1), Math.max(0, 100 - before)];
  return summed.map((n, i) => {
    const { chance } = cells[i]!;
    const plain = n > 0 && n < 100;
    return plain ? String(n) : hundredInWords(n === 0 ? Math.min(chance, 0.001) : chance);
  });
}

/** One bar of a hundred parts, cut by chance: the answer in one look. `of`: what there are a hundred of. */
export function sharesPicture(
  cells: readonly ShareCell[],
  width: number,
  of = "Of 100 machines that sound like this",
): Markup {
  let at = 0;
  const numbers = hundreds(cells);
  const drawn = cells.map(({ chance, look }, i) => {
    const from = at * width;
    at += chance;
    const wide = chance * width;
    const number = numbers[i]!;
    const name = look === "share-1" || look === "share-2" ? "value on-dark" : "value";
    const fits = wide > textWidth(number, 14) + 10;
    return html`${box(from + 0.5, 0.5, [wide - 1, HEIGHT - 1], look)}${
      fits ? label(from + wide / 2, HEIGHT / 2 + 5, number, { anchor: "middle", name }) : null
    }`;
  });
  return drawing(
    { width, height: HEIGHT },
    `${of}: ${cells.map(({ name }, i) => `${numbers[i]} ${name}`).join(", ")}.`,
    drawn,
  );
}

/** What the cells of the bar stand for. */
export function sharesKey(cells: readonly ShareCell[]): Markup {
  const numbers = hundreds(cells);
  return html`<ul class="swatches">
    ${cells.map(
      ({ name, look }, i) =>
        html`<li>
          <svg viewBox="0 0 13 13" aria-hidden="true">${box(0.5, 0.5, [12, 12], look)}</svg>
          <span>${name}, ${numbers[i]} in 100</span>
        </li>`,
    )}
  </ul>`;
}
