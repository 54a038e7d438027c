import { html, type Markup, type Piece } from "../html/markup.js";

/** Coordinates to a tenth of a pixel: finer is not seen and only makes the file longer. */
export const px = (value: number): number => Math.round(value * 10) / 10;

export interface Frame {
  readonly width: number;
  readonly height: number;
  /** Edges of the plot within the drawing, px. */
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

/** A drawing of fixed proportions that fills its place; `label` is read instead of it. */
export const drawing = (
  { width, height }: Pick<Frame, "width" | "height">,
  label: string,
  content: Piece,
): Markup =>
  html`<svg
    class="picture"
    viewBox="0 0 ${px(width)} ${px(height)}"
    role="img"
    aria-label="${label}"
  >
    ${content}
  </svg>`;

export interface TextOptions {
  readonly anchor?: "start" | "middle" | "end";
  readonly name?: string;
}

export const label = (x: number, y: number, text: string, options: TextOptions = {}): Markup =>
  html`<text
    x="${px(x)}"
    y="${px(y)}"
    class="${options.name ?? "tick"}"
    text-anchor="${options.anchor ?? "start"}"
    >${text}</text
  >`;

/** A text turned to be read upwards, centred on a point. */
export const upright = (x: number, y: number, text: string, name = "unit"): Markup =>
  html`<text
    transform="translate(${px(x)} ${px(y)}) rotate(-90)"
    class="${name}"
    text-anchor="middle"
    >${text}</text
  >`;

export const rule = (
  from: readonly [number, number],
  to: readonly [number, number],
  name: string,
): Markup =>
  html`<line
    x1="${px(from[0])}"
    y1="${px(from[1])}"
    x2="${px(to[0])}"
    y2="${px(to[1])}"
    class="${name}"
  />`;

export const box = (
  x: number,
  y: number,
  size: readonly [width: number, height: number],
  name: string,
): Markup =>
  html`<rect
    x="${px(x)}"
    y="${px(y)}"
    width="${px(Math.max(0, size[0]))}"
    height="${px(Math.max(0, size[1]))}"
    class="${name}"
  />`;

export const path = (d: string | null, name: string): Markup | null =>
  d ? html`<path d="${d}" class="${name}" />` : null;

/** Width of a text in px, about: a proportional face at this size. */
export const textWidth = (text: string, size = 12): number => 0.56 * size * text.length;
