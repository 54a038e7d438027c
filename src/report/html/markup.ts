import { showControls } from "../lines.js";

/** Markup that may stand in a page as it is. Only `html` and `asMarkup` make it. */
export class Markup {
  constructor(readonly source: string) {}
  toString(): string {
    return this.source;
  }
}

/** What `html` takes between its pieces; text is escaped, nothing stays nothing. */
export type Piece = Markup | string | number | null | undefined | false | readonly Piece[];

const ENTITIES: Readonly<Record<string, string>> = {
  "&": "&amp;",
  "<": "&lt;",
  ">": "&gt;",
  '"': "&quot;",
  "'": "&#39;",
};

/**
 * Text as markup: signs of the language are escaped, control characters and marks that turn the reading
 * direction are made visible. Safe between tags and inside quoted attributes.
 */
export const escaped = (text: string): string =>
  showControls(text).replace(/[&<>"']/g, (sign) => ENTITIES[sign]!);

function sourceOf(piece: Piece): string {
  if (piece === null || piece === undefined || piece === false) return "";
  if (piece instanceof Markup) return piece.source;
  if (typeof piece === "string") return escaped(piece);
  if (typeof piece === "number") return String(piece);
  return piece.map(sourceOf).join("");
}

/**
 * Markup from a template. What is put in is escaped unless it is markup itself; lists are joined.
 *
 * @example html`<p>${"a < b"}</p>`.source === "<p>a &lt; b</p>"
 */
export function html(pieces: TemplateStringsArray, ...values: readonly Piece[]): Markup {
  return new Markup(pieces.reduce((all, piece, i) => all + sourceOf(values[i - 1]) + piece));
}

/** Declares a string to be markup. For constants and generated files only, never for anything told or read. */
export const asMarkup = (source: string): Markup => new Markup(source);

/** A name from outside, kept apart from the reading direction of the text around it. */
export const outside = (name: string): Markup => html`<bdi class="name">${name}</bdi>`;

/** Base64 of bytes, for `data:` addresses. */
export function base64(bytes: Uint8Array): string {
  let text = "";
  // `fromCharCode` takes its bytes as arguments, of which there may not be too many.
  for (let i = 0; i < bytes.length; i += 8192) {
    text += String.fromCharCode(...bytes.subarray(i, i + 8192));
  }
  return btoa(text);
}
