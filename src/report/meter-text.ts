import { formatQuantity } from "../inspection/meter/format-quantity.js";
import { METER_CAUTIONS } from "../inspection/meter/meter-cautions.data.js";
import type { MeterResult } from "../inspection/meter/meter-result.js";
import type { Measured } from "../inspection/meter/measured.js";
import type { Limits } from "../inspection/meter/tolerance.js";
import { labelled, showControls, wrap } from "./lines.js";

export interface MeterTextOptions {
  /** Columns. @defaultValue 100 */
  readonly width?: number;
  /** Bold verdict with ANSI codes. @defaultValue false */
  readonly color?: boolean;
}

const VERDICT_WORDS = {
  pass: "PASS",
  fail: "FAIL",
  "too-close": "TOO CLOSE TO CALL",
  "cannot-tell": "CANNOT TELL",
} as const;

type Unit = MeterResult["reading"]["unit"];

const span = ({ low, high }: Limits, unit: Unit): string => {
  if (high === Infinity) return `${formatQuantity(low, unit)} or more, best open`;
  if (low === 0) return `less than ${formatQuantity(high, unit)}`;
  return `${formatQuantity(low, unit)} to ${formatQuantity(high, unit)}`;
};

function measuredWords(result: MeterResult, i: number): string {
  const { reading } = result;
  const { unit, leads } = reading;
  const one: Measured = reading.measured[i]!;
  const told = showControls(reading.readings[i]!.text);
  if (one.value === Infinity) return `${told}: open`;
  const less = leads ? ` less ${showControls(leads.text)} of leads` : "";
  const low = formatQuantity(Math.max(0, one.low), unit);
  return `${told}${less}: it is ${low} to ${formatQuantity(one.high, unit)}`;
}

function acceptsWords(result: MeterResult): string | null {
  const { accepts, reading } = result;
  if (!accepts) return null;
  const { printed, tolerance } = reading.request;
  const tail =
    printed === undefined
      ? ""
      : result.printed === null
        ? " as printed"
        : ` (printed ${showControls(printed)}, ${tolerance ? showControls(tolerance) : "±10 %"})`;
  return span(accepts, reading.unit) + tail;
}

const GAUGE = 41;

/**
 * One line: limits as brackets, what the reading can mean as `=`, the reading as `o`; `<` and `>` when
 * it lies off the scale. Null when there is nothing to draw.
 */
export function meterGauge(measured: Measured, accepts: Limits | null): string | null {
  if (!accepts || measured.value === Infinity || accepts.high === Infinity) return null;
  const margin = (accepts.high - accepts.low) / 2;
  const start = accepts.low - margin;
  const column = (value: number): number =>
    Math.round(((value - start) / (4 * margin)) * (GAUGE - 1));
  const cells = Array.from({ length: GAUGE }, () => "-");
  const put = (at: number, mark: string): void => {
    if (at >= 0 && at < GAUGE) cells[at] = mark;
  };
  for (let at = column(measured.low); at <= Math.min(GAUGE, column(measured.high)); at++) {
    put(at, "=");
  }
  put(column(accepts.low), "[");
  put(column(accepts.high), "]");
  const at = column(measured.value);
  if (at < 0) cells[0] = "<";
  else if (at >= GAUGE) cells[GAUGE - 1] = ">";
  else cells[at] = "o";
  return cells.join("");
}

/** What the marks of a gauge mean; only those that it holds. */
const gaugeWords = (gauge: string): string =>
  [
    ["[", "[ ] limits"],
    ["=", "= where the value can lie with the errors of meter and leads"],
    ["o", "o the reading"],
    ["<", "< the reading, off the scale"],
    [">", "> the reading, off the scale"],
  ]
    .filter(([mark]) => gauge.includes(mark!))
    .map(([, words]) => words)
    .join("; ");

/** A judged reading as a person reads it: verdict first, then why, what to do, and the cautions. */
export function meterText(result: MeterResult, options: MeterTextOptions = {}): string {
  const { width = 100, color = false } = options;
  const { reading } = result;
  const { point, kind } = reading;
  const words = VERDICT_WORDS[result.verdict];
  const verdict = color ? `\u001b[1m${words}\u001b[0m` : words;
  const title = kind === "earth" ? `${point.label} to earth` : point.label;
  const lines = [
    ...wrap(`${title[0]!.toUpperCase()}${title.slice(1)}: ${verdict}`, width),
    ...wrap(result.reason, width),
    "",
    ...reading.measured.flatMap((_, i) =>
      labelled(i === 0 ? "Measured" : "", measuredWords(result, i), width),
    ),
  ];
  const accepts = acceptsWords(result);
  if (accepts) lines.push(...labelled("Accepts", accepts, width));
  const gauge = kind === "windings" ? null : meterGauge(reading.measured[0]!, result.accepts);
  if (gauge) lines.push(...labelled("", gauge, width), ...labelled("", gaugeWords(gauge), width));
  const notes = result.notes.map(({ text }) => text);
  if (result.verdict === "pass" && kind === point.kind) notes.push(point.passLimits);
  notes.forEach((text, i) => lines.push(...labelled(i === 0 ? "Note" : "", text, width)));
  result.asks.forEach(({ text }, i) => lines.push(...labelled(i === 0 ? "Tell" : "", text, width)));
  lines.push(...labelled("How", point.prepare, width));
  METER_CAUTIONS.forEach(({ text }, i) =>
    lines.push(...labelled(i === 0 ? "Caution" : "", text, width)),
  );
  return `${lines.join("\n")}\n`;
}
