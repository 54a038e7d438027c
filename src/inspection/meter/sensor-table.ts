import { WasherNoiseError } from "../../foundation/errors.js";
import { parseFinite } from "./quantity.js";

/** One row of a temperature sensor's table. */
export interface SensorPoint {
  readonly celsius: number;
  readonly ohm: number;
}

/** Rows in order of rising temperature; resistance rises or falls all the way. */
export type SensorTable = readonly SensorPoint[];

const KELVIN = 273.15;
const inverse = (celsius: number): number => 1 / (celsius + KELVIN);

const refuse = (must: string, facts: Record<string, unknown>): WasherNoiseError =>
  new WasherNoiseError("usage", `--table ${must}`, { name: "--table", ...facts });

function parseRow(text: string): SensorPoint {
  const [left, right, more] = text.split(/\s*[=:;\t]\s*|\s*,\s*|\s+/);
  const celsius = Number(left?.replace(/°?c$/i, ""));
  if (
    left === "" ||
    right === undefined ||
    more !== undefined ||
    !(celsius > -60 && celsius < 300)
  ) {
    throw refuse(`rows must be temperature=resistance such as 30=9.7k, received "${text}".`, {
      received: text,
    });
  }
  const { value } = parseFinite("--table", right, "ohm");
  if (value > 0) return { celsius, ohm: value };
  throw refuse(`must hold resistances above 0, received "${text}".`, { received: text });
}

/**
 * Reads `0=35.9k,30=9.7k,60=3.2k`, or the same one row a line (a comma or a space may stand between
 * the columns there; lines that start with # are passed over).
 */
export function parseSensorTable(text: string): SensorTable {
  const lines = text.trim().split(/\r?\n/);
  const rows = (lines.length > 1 ? lines : text.split(","))
    .map((row) => row.trim())
    .filter((row) => row !== "" && !row.startsWith("#"))
    .map(parseRow)
    .sort((a, b) => a.celsius - b.celsius);
  if (rows.length < 2) throw refuse("needs at least two rows.", { rows: rows.length });
  const steps = rows.slice(1).map((row, i) => ({
    warmer: row.celsius > rows[i]!.celsius,
    rise: Math.sign(row.ohm - rows[i]!.ohm),
  }));
  const oneWay = steps.every(({ warmer, rise }) => warmer && rise !== 0 && rise === steps[0]!.rise);
  if (oneWay) return rows;
  throw refuse("must rise or fall all the way, with no temperature twice; look for a slip.", {});
}

/** Constant B between two rows in kelvin: ln(R1/R2) / (1/T1 − 1/T2), after IEC 60539-1. */
export const betaBetween = (a: SensorPoint, b: SensorPoint): number =>
  Math.log(a.ohm / b.ohm) / (inverse(a.celsius) - inverse(b.celsius));

/** The rows on either side, or null outside the table: nothing is guessed beyond its ends. */
const bracket = (
  table: SensorTable,
  holds: (a: SensorPoint, b: SensorPoint) => boolean,
): readonly [SensorPoint, SensorPoint] | null => {
  const i = table.findIndex((row, k) => k > 0 && holds(table[k - 1]!, row));
  return i < 0 ? null : [table[i - 1]!, table[i]!];
};

/** Resistance in ohm at a temperature, by straight lines in ln R over 1/T; null outside the table. */
export function ohmAt(table: SensorTable, celsius: number): number | null {
  const rows = bracket(table, (a, b) => celsius >= a.celsius && celsius <= b.celsius);
  if (!rows) return null;
  const [a, b] = rows;
  return a.ohm * Math.exp(betaBetween(a, b) * (inverse(celsius) - inverse(a.celsius)));
}

/** Temperature in °C that belongs to a resistance; null outside the table. */
export function celsiusAt(table: SensorTable, ohm: number): number | null {
  const rows = bracket(
    table,
    (a, b) => ohm >= Math.min(a.ohm, b.ohm) && ohm <= Math.max(a.ohm, b.ohm),
  );
  if (!rows) return null;
  const [a, b] = rows;
  return 1 / (inverse(a.celsius) + Math.log(ohm / a.ohm) / betaBetween(a, b)) - KELVIN;
}
