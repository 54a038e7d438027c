import type { ScaleContinuousNumeric } from "d3-scale";
import { html, type Markup } from "../html/markup.js";
import { label, px, rule, textWidth, upright, type Frame } from "./svg.js";

export type Scale = ScaleContinuousNumeric<number, number>;

export interface AxisOptions {
  /** What is measured, and its unit; every axis has one. */
  readonly unit: string;
  /** About how many ticks. */
  readonly count?: number;
  readonly ticks?: readonly number[];
  readonly format?: (value: number) => string;
  /** Lines across the plot. @defaultValue true */
  readonly grid?: boolean;
}

/** Plain number: no exponent, no needless zeros. */
export const plain = (value: number): string => {
  const size = Math.abs(value);
  if (size >= 100 || Number.isInteger(value)) return String(Math.round(value));
  return String(Number(value.toFixed(size >= 10 ? 1 : 2)));
};

const ticksOf = (scale: Scale, options: AxisOptions, fallback: number): readonly number[] =>
  options.ticks ?? scale.ticks(options.count ?? fallback);

/** Ticks and unit under the plot. */
export function bottomAxis(scale: Scale, frame: Frame, options: AxisOptions): Markup {
  const { format = plain, grid = true, unit } = options;
  const marks = ticksOf(
    scale,
    options,
    Math.max(3, Math.floor((frame.right - frame.left) / 90)),
  ).map((value) => {
    const x = px(scale(value));
    return html`${grid ? rule([x, frame.top], [x, frame.bottom], "grid") : null}${rule([x, frame.bottom], [x, frame.bottom + 4], "edge")}${label(x, frame.bottom + 17, format(value), { anchor: "middle" })}`;
  });
  const middle = (frame.left + frame.right) / 2;
  return html`${marks}${rule([frame.left, frame.bottom], [frame.right, frame.bottom], "edge")}${label(middle, frame.bottom + 34, unit, { anchor: "middle", name: "unit" })}`;
}

/** Ticks left of the plot, the unit read upwards. */
export function leftAxis(scale: Scale, frame: Frame, options: AxisOptions): Markup {
  const { format = plain, grid = true, unit } = options;
  const fitting = Math.max(2, Math.floor((frame.bottom - frame.top) / 45));
  const values = ticksOf(scale, options, fitting);
  const widest = Math.max(...values.map((value) => textWidth(format(value))));
  const marks = values.map((value) => {
    const y = px(scale(value));
    return html`${grid ? rule([frame.left, y], [frame.right, y], "grid") : null}${rule([frame.left - 4, y], [frame.left, y], "edge")}${label(frame.left - 7, y + 4, format(value), { anchor: "end" })}`;
  });
  const middle = (frame.top + frame.bottom) / 2;
  return html`${marks}${rule([frame.left, frame.top], [frame.left, frame.bottom], "edge")}${upright(frame.left - Math.max(34, widest + 14), middle, unit)}`;
}

/** Ticks right of the plot. */
export function rightAxis(scale: Scale, frame: Frame, options: AxisOptions): Markup {
  const { format = plain, unit } = options;
  const marks = ticksOf(scale, options, 4).map((value) => {
    const y = px(scale(value));
    return html`${rule([frame.right, y], [frame.right + 4, y], "edge")}${label(frame.right + 7, y + 4, format(value))}`;
  });
  return html`${marks}${upright(frame.right + 58, (frame.top + frame.bottom) / 2, unit)}`;
}

/** Frequencies as a reader expects them on a logarithmic axis: 20, 50, 100, 200 ... */
export const decadeTicks = (
  low: number,
  high: number,
  steps: readonly number[] = [1, 2, 5],
): number[] => {
  const out: number[] = [];
  for (let decade = 10 ** Math.floor(Math.log10(low)); decade <= high; decade *= 10) {
    out.push(...steps.map((step) => step * decade).filter((v) => v >= low && v <= high));
  }
  return out;
};

export const hertz = (hz: number): string => (hz >= 1000 ? `${plain(hz / 1000)} k` : plain(hz));
