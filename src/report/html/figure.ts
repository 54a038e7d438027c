import { html, type Markup, type Piece } from "./markup.js";

/** Numbers of a picture, for readers who cannot see it and for those who want to check. */
export interface FigureTable {
  readonly columns: readonly string[];
  readonly rows: readonly (readonly Piece[])[];
}

export interface FigureContent {
  /** Unique on the page. */
  readonly id: string;
  /** What the picture says, as a sentence or a heading. */
  readonly title: string;
  /** Draws the picture at a width in px; called for screens and paper, and for phones. */
  readonly draw: (width: number) => Markup;
  /** How to read it, and what it shows. */
  readonly caption: Markup;
  /** Stands under the picture before the caption: a key of marks. */
  readonly key?: Markup | null;
  readonly table: FigureTable;
}

/** Width of a drawing on screens and paper, and on phones, px. */
export const WIDE = 820;
export const NARROW = 328;

/** A table that scrolls in its own frame when the screen is too narrow for it. */
export const dataTable = ({ columns, rows }: FigureTable, name: string): Markup =>
  html`<div class="scroll" tabindex="0" role="region" aria-label="${name}">
    <table>
      <thead>
        <tr>
          ${columns.map((column) => html`<th scope="col">${column}</th>`)}
        </tr>
      </thead>
      <tbody>
        ${rows.map(
          (row) =>
            html`<tr>
              ${row.map((cell, i) => (i === 0 ? html`<th scope="row">${cell}</th>` : html`<td>${cell}</td>`))}
            </tr>`,
        )}
      </tbody>
    </table>
  </div>`;

/** A picture drawn for two widths, its caption and its numbers. */
export function figure({ id, title, draw, caption, key, table }: FigureContent): Markup {
  return html`<figure id="${id}" aria-labelledby="${id}-title">
    <h4 id="${id}-title">${title}</h4>
    <div class="wide">${draw(WIDE)}</div>
    <div class="narrow">${draw(NARROW)}</div>
    ${key}
    <figcaption>${caption}</figcaption>
    <details class="numbers">
      <summary>Numbers of this picture</summary>
      ${dataTable(table, `Numbers: ${title}`)}
    </details>
  </figure>`;
}
