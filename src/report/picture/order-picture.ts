import { scaleLinear } from "d3-scale";
import { area, line } from "d3-shape";
import {
  LINE_FAMILIES,
  type Curve,
  type LineFamily,
  type LineMark,
  type OrderData,
} from "../../answer/picture-data.js";
import { html, type Markup } from "../html/markup.js";
import { bottomAxis, leftAxis, plain, type Scale } from "./axes.js";
import { FAMILY_WORDS, sign, spreadOut, type Certainty } from "./marks.js";
import { box, drawing, label, path, rule, type Frame } from "./svg.js";

/** Marks that were heard, strongest first, as they are numbered in the pictures and the key. */
export const numbered = (marks: readonly LineMark[]): LineMark[] =>
  marks.filter(({ heard }) => heard).sort((a, b) => (a.pAdjusted ?? 1) - (b.pAdjusted ?? 1));

export const certaintyOf = ({ heard, hint }: LineMark): Certainty =>
  heard ? "heard" : hint ? "hint" : "not heard";

// Drawing order: what was heard lies on top.
const surely = ({ heard, hint }: LineMark): number => 2 * Number(heard) + Number(hint);

const LANE = 22;

interface CurvePoint {
  readonly x: number;
  readonly db: number;
}

/** Points to draw: in each pixel the highest, nothing below 0 dB. */
function pointsOf(
  { overDb, first, step }: Curve,
  x: (place: number) => number,
  [from, to]: readonly [number, number],
): CurvePoint[] {
  const points: CurvePoint[] = [];
  overDb.forEach((value, i) => {
    const at = first + i * step;
    if (at < from || at > to) return;
    const point = { x: x(at), db: Math.max(0, value) };
    const before = points[points.length - 1];
    if (before === undefined || Math.floor(before.x) !== Math.floor(point.x)) points.push(point);
    else if (point.db > before.db) points[points.length - 1] = point;
  });
  return points;
}

/** A curve as a filled hill above 0 dB. */
export const curveMarkup = (
  curve: Curve,
  x: (place: number) => number,
  y: Scale,
  span: readonly [number, number],
): Markup | null =>
  path(
    area<CurvePoint>()
      .digits(1)
      .x((point) => point.x)
      .y0(y(0))
      .y1(({ db }) => y(db))(pointsOf(curve, x, span)),
    "hill",
  );

/** A second curve over the hill, as a line. */
export const overlayMarkup = (
  curve: Curve,
  x: (place: number) => number,
  y: Scale,
  span: readonly [number, number],
): Markup | null =>
  path(
    line<CurvePoint>()
      .digits(1)
      .x((point) => point.x)
      .y(({ db }) => y(db))(pointsOf(curve, x, span)),
    "after",
  );

/** What the hill and the line over it are. */
export const overlayKey = (right: number): Markup =>
  html`${box(right - 132, 3, [14, 9], "hill")}${label(right - 114, 12, "before", { name: "note" })}${rule([right - 62, 8], [right - 44, 8], "after")}${label(right - 40, 12, "after", { name: "note" })}`;

/** Numbers above the plot, each with a leader down to its place. */
export function numberFlags(
  marks: readonly LineMark[],
  x: (place: number) => number,
  frame: Frame,
): Markup[] {
  const places = marks.map(({ place }) => x(place));
  const spread = spreadOut(places, 20, [frame.left + 8, frame.right - 8]);
  return marks.map((_, i) => {
    const [at, to] = [spread[i]!, places[i]!];
    return html`${rule([at, frame.top - 6], [to, frame.top + 4], "leader")}${rule([to, frame.top + 4], [to, frame.bottom], "leader")}<circle
        cx="${Math.round(at)}"
        cy="${frame.top - 14}"
        r="8.5"
        class="flag"
      />${label(at, frame.top - 10, String(i + 1), { anchor: "middle", name: "flag-text" })}`;
  });
}

function lanes(
  data: OrderData,
  families: readonly LineFamily[],
  x: Scale,
  frame: Frame,
  firstLane: number,
): Markup[] {
  return families.map((family, lane) => {
    const y = firstLane + (lane + 0.5) * LANE;
    const marks = data.marks.filter((mark) => mark.family === family);
    return html`${rule([frame.left, y], [frame.right, y], "lane")}${label(frame.left - 7, y + 4, FAMILY_WORDS[family], { anchor: "end" })}${marks.map(
      ({ low, high }) =>
        box(
          Math.max(frame.left, x(low)),
          y - 4,
          [Math.min(frame.right, x(high)) - Math.max(frame.left, x(low)), 8],
          "window",
        ),
    )}${[...marks]
      .sort((a, b) => surely(a) - surely(b))
      .map((mark) => sign(family, x(mark.place), y, certaintyOf(mark)))}`;
  });
}

/**
 * How strongly the sound beats by beats per drum turn, with the places of all parts in lanes below.
 * `after`: the same of a later recording, drawn over it.
 */
export function orderPicture(data: OrderData, width: number, after?: Curve): Markup {
  const families = LINE_FAMILIES.filter((family) =>
    data.marks.some((mark) => mark.family === family),
  );
  const plotHeight = width < 500 ? 170 : 220;
  const bottom = 34 + plotHeight;
  const lanesTop = bottom + 8;
  const end = lanesTop + families.length * LANE;
  const frame: Frame = {
    width,
    height: end + 44,
    left: width < 500 ? 62 : 72,
    right: width - 12,
    top: 34,
    bottom,
  };
  const { curve } = data;
  const top = curve.first + (curve.overDb.length - 1) * curve.step;
  const x = scaleLinear([0, top], [frame.left, frame.right]);
  const highest = [curve, ...(after === undefined ? [] : [after])].reduce(
    (most, { overDb }) => overDb.reduce((high, db) => Math.max(high, db), most),
    6,
  );
  const y = scaleLinear([0, Math.ceil((highest + 1) / 5) * 5], [frame.bottom, frame.top]);
  const overlay =
    after === undefined
      ? null
      : html`${overlayMarkup(after, x, y, [0, top])}${overlayKey(frame.right)}`;
  const heard = numbered(data.marks);
  return drawing(
    frame,
    `Beating of the sound by beats per drum turn${after === undefined ? "" : " before and after"}, 0 to ${plain(top)}. ${heard.length} of ${data.marks.length} places looked at stand out; the table below lists them.`,
    html`${leftAxis(y, frame, { unit: "beating over background, dB" })}${curveMarkup(curve, x, y, [0, top])}${overlay}${lanes(data, families, x, frame, lanesTop)}${numberFlags(heard, x, { ...frame, bottom: end })}${bottomAxis(x, { ...frame, bottom: end }, { unit: "beats per drum turn (order)", grid: false })}`,
  );
}
