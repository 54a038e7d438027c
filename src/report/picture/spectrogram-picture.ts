import { scaleLinear, scaleLog } from "d3-scale";
import { interpolateYlGnBu } from "d3-scale-chromatic";
import { line } from "d3-shape";
import { encode } from "fast-png";
import { LEVEL_STEPS, type CourseMark, type SpectrogramData } from "../../answer/picture-data.js";
import type { FigureTable } from "../html/figure.js";
import { base64, html, type Markup } from "../html/markup.js";
import { bottomAxis, decadeTicks, hertz, leftAxis, rightAxis, type Scale } from "./axes.js";
import { sign, spreadOut } from "./marks.js";
import { box, drawing, label, path, px, rule, textWidth, type Frame } from "./svg.js";

/** Colours of the steps, light (quiet) to dark (loud): lightness falls all the way, so grey print reads. */
const COLOURS: readonly (readonly [number, number, number])[] = Array.from(
  { length: LEVEL_STEPS },
  (_, i) => {
    const rgb = /(\d+), (\d+), (\d+)/.exec(interpolateYlGnBu(i / (LEVEL_STEPS - 1)))!;
    return [Number(rgb[1]), Number(rgb[2]), Number(rgb[3])] as const;
  },
);

/** The image as PNG bytes, highest pitch on top, one pixel a step of time and pitch. */
export function spectrogramPng({ columns, rows, steps }: SpectrogramData): Uint8Array {
  const data = new Uint8Array(3 * columns * rows);
  for (let r = 0; r < rows; r++) {
    for (let c = 0; c < columns; c++) {
      data.set(COLOURS[steps[(rows - 1 - r) * columns + c]!]!, 3 * (r * columns + c));
    }
  }
  return encode(
    { width: columns, height: rows, data, channels: 3, depth: 8 },
    { zlib: { level: 9 } },
  );
}

/** The image once; both drawings of the picture show it by its id. */
export const spectrogramImage = (data: SpectrogramData, id: string): Markup =>
  html`<svg class="store" width="0" height="0" aria-hidden="true">
    <defs>
      <image
        id="${id}"
        width="1"
        height="1"
        preserveAspectRatio="none"
        href="data:image/png;base64,${base64(spectrogramPng(data))}"
      />
    </defs>
  </svg>`;

function frameOf(width: number): Frame {
  const small = width < 500;
  return {
    width,
    height: small ? 330 : 430,
    left: 54,
    right: width - (small ? 12 : 80),
    top: 26,
    bottom: small ? 262 : 362,
  };
}

function coursePath(course: CourseMark, x: Scale, y: Scale): string | null {
  const [low, high] = y.domain() as [number, number];
  return line<CourseMark["points"][number]>()
    .digits(1)
    .defined(({ hz }) => hz !== null && hz >= low && hz <= high)
    .x(({ seconds }) => x(seconds))
    .y(({ hz }) => y(hz!))([...course.points]);
}

/** A course that lies almost wholly outside the picture is not drawn. */
const LEAST_SEEN = 0.2;

export function isSeen(course: CourseMark, { lowHz, highHz }: SpectrogramData): boolean {
  const known = course.points.filter(({ hz }) => hz !== null);
  const seen = known.filter(({ hz }) => hz! >= lowHz && hz! <= highHz);
  return seen.length > 0 && seen.length >= LEAST_SEEN * known.length;
}

/** Where a course can be labelled: its last point inside the plot. */
function lastPoint(course: CourseMark, y: Scale): { seconds: number; hz: number } | null {
  const [low, high] = y.domain() as [number, number];
  for (let i = course.points.length - 1; i >= 0; i--) {
    const { seconds, hz } = course.points[i]!;
    if (hz !== null && hz >= low && hz <= high) return { seconds, hz };
  }
  return null;
}

const plateWidth = (text: string): number => textWidth(text, 11.5) + 26;

/** As much of a course's name as fits: first goes what the open sign says too, then the finer words. */
function fittingName({ label: name, heard }: CourseMark, room: number): string {
  const words = name.split(", ");
  const shorter = words.map((_, i) => words.slice(0, words.length - i).join(", "));
  const names = heard ? shorter : [`${name} (not heard)`, ...shorter];
  return names.find((text) => plateWidth(text) <= room) ?? names.at(-1)!;
}

function courseMarks(courses: readonly CourseMark[], x: Scale, y: Scale, frame: Frame): Markup[] {
  const placed = courses.flatMap((course) => {
    const point = lastPoint(course, y);
    return point === null ? [] : [{ course, point }];
  });
  const heights = spreadOut(
    placed.map(({ point }) => y(point.hz) - 6),
    17,
    [frame.top + 12, frame.bottom - 6],
  );
  return placed.map(({ course, point }, i) => {
    const d = coursePath(course, x, y);
    const name = course.heard ? "course heard" : "course";
    const end = Math.min(x(point.seconds), frame.right) - 10;
    const text = fittingName(course, frame.right - frame.left - 8);
    const width = plateWidth(text);
    const left = Math.max(frame.left + 4, end - width);
    const at = heights[i]!;
    return html`${path(d, "halo")}${path(d, name)}${box(left, at - 10, [width, 15], "plate")}${sign(course.family, left + 9, at - 2.5, course.heard ? "heard" : "not heard")}${label(left + 19, at + 1.5, text, { name: "note" })}`;
  });
}

function colourKey(data: SpectrogramData, frame: Frame): Markup {
  const width = 110;
  const left = frame.right - width - 78;
  const cells = COLOURS.filter((_, i) => i % 4 === 0).map(
    ([r, g, b], i) =>
      html`<rect
        x="${px(left + (i * width) / 12)}"
        y="8"
        width="${px(width / 12 + 0.3)}"
        height="9"
        fill="rgb(${r},${g},${b})"
      />`,
  );
  return html`${label(left - 5, 16, String(Math.round(data.quietDb)), { anchor: "end" })}${cells}${label(left + width + 5, 16, `${Math.round(data.loudDb)} dB/octave`)}`;
}

/** Level over time and pitch, with the drum's speed and the tones to expect drawn over it. */
export function spectrogramPicture(data: SpectrogramData, imageId: string, width: number): Markup {
  const frame = frameOf(width);
  const x = scaleLinear([0, data.seconds], [frame.left, frame.right]);
  const y = scaleLog([data.lowHz, data.highHz], [frame.bottom, frame.top]);
  const size = { width: frame.right - frame.left, height: frame.bottom - frame.top };
  const courses = [...(data.drum ? [data.drum] : []), ...data.lines].filter((course) =>
    isSeen(course, data),
  );
  const rpm = scaleLog([data.lowHz * 60, data.highHz * 60], [frame.bottom, frame.top]);
  const rpmTicks = decadeTicks(data.lowHz * 60, Math.min(20_000, data.highHz * 60));
  return drawing(
    frame,
    `Loudness by time and pitch over ${data.seconds.toFixed(0)} seconds. Its numbers stand in the table below.`,
    html`${colourKey(data, frame)}<use
        href="#${imageId}"
        transform="translate(${frame.left} ${frame.top}) scale(${px(size.width)} ${px(size.height)})"
      />${leftAxis(y, frame, { unit: "pitch, Hz", ticks: decadeTicks(data.lowHz, data.highHz), format: hertz, grid: false })}${bottomAxis(x, frame, { unit: "time, seconds", grid: false })}${width < 500 ? null : rightAxis(rpm, frame, { unit: "shaft speed of one beat a turn, rpm", ticks: rpmTicks })}${rule([frame.left, frame.top], [frame.right, frame.top], "edge")}${rule([frame.right, frame.top], [frame.right, frame.bottom], "edge")}${courseMarks(courses, x, y, frame)}`,
  );
}

/** Mean level of each octave in a few stretches of time: the picture as a table. */
export function spectrogramTable({ octaves, seconds }: SpectrogramData): FigureTable {
  const spans = octaves[0]?.levelsDb.length ?? 0;
  const edge = (i: number): string => ((i * seconds) / spans).toFixed(seconds < 20 ? 1 : 0);
  return {
    columns: [
      "octave around, Hz",
      ...Array.from({ length: spans }, (_, i) => `${edge(i)} to ${edge(i + 1)} s, dB`),
    ],
    rows: octaves.map(({ centreHz, levelsDb }) => [
      String(centreHz),
      ...levelsDb.map((db) => db.toFixed(0)),
    ]),
  };
}
