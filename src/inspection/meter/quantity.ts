import { WasherNoiseError } from "../../foundation/errors.js";

export type ElectricalUnit = "ohm" | "farad";

/** What a meter shows or a label prints. */
export interface Quantity {
  /** In ohm or farad; Infinity when the meter shows "OL". */
  readonly value: number;
  readonly unit: ElectricalUnit;
  /** Worth of the last digit shown, in the same unit; 0 when open. */
  readonly resolution: number;
  /** As it was typed. */
  readonly text: string;
}

const OPEN = /^(o\.?l\.?|\.?0\.?l\.?|open|inf|infinity|∞)$/i;
const LETTER_FOR_POINT = /^(\d*)([rkm])(\d+)$/i;
const NUMBER = /^([+-]?\d+(?:[.,]\d+)?)(.*)$/;
const EITHER_WAY = /^\d{1,3}(,\d{3})+$/;

const OHM_WORDS = new Map<string, number>([
  ["", 1],
  ["k", 1e3],
  ["K", 1e3],
  ["M", 1e6],
  ["meg", 1e6],
  ["G", 1e9],
]);
const FARAD_WORDS = new Map<string, number>([
  ["u", 1e-6],
  ["n", 1e-9],
  ["p", 1e-12],
]);

const refuse = (name: string, text: string, must: string): WasherNoiseError =>
  new WasherNoiseError("usage", `${name} ${must}, received "${text}".`, { name, received: text });

const tidy = (text: string): string =>
  text
    .trim()
    .replace(/\s+/g, "")
    .replace(/[\u03a9\u2126]/g, "ohm")
    .replace(/[\u00b5\u03bc]/g, "u")
    .replace(/ohms$/i, "ohm");

/** Multiplier and unit of what follows the digits, or null when it is no unit. */
function unitOf(suffix: string): { factor: number; unit: ElectricalUnit } | null {
  // American motor capacitors carry "MFD" for microfarad.
  if (/^mfd$/i.test(suffix)) return { factor: 1e-6, unit: "farad" };
  if (suffix === "mohm") return { factor: 1e-3, unit: "ohm" };
  if (/f$/i.test(suffix)) {
    const factor = FARAD_WORDS.get(suffix.slice(0, -1).toLowerCase());
    return factor === undefined ? null : { factor, unit: "farad" };
  }
  const factor = OHM_WORDS.get(suffix.replace(/(ohm|r)$/i, ""));
  return factor === undefined ? null : { factor, unit: "ohm" };
}

/** "4K7" and "R22": the letter stands where the point would (IEC 60062). */
function letterForPoint(text: string): { digits: string; suffix: string } | null {
  const match = LETTER_FOR_POINT.exec(text);
  if (!match || match[2] === "m") return null;
  const letter = match[2]!.toUpperCase();
  return { digits: `${match[1] || "0"}.${match[3]!}`, suffix: letter === "R" ? "" : letter };
}

function numberAndUnit(name: string, text: string): { digits: string; suffix: string } {
  const coded = letterForPoint(text);
  if (coded) return coded;
  const match = NUMBER.exec(text);
  if (!match)
    throw refuse(name, text, 'must be a number with its unit, such as 5400, 5.4k or "OL"');
  const [, digits, suffix] = match;
  if (EITHER_WAY.test(digits!)) {
    throw refuse(name, text, "can be read two ways; write thousands without a comma");
  }
  return { digits: digits!.replace(",", "."), suffix: suffix! };
}

/**
 * Reads a value as a meter or a label writes it: `5400`, `5.4k`, `4K7`, `0.2 ohm`, `12.5uF`, `30 MFD`,
 * `OL`. A bare number is in ohm. Upper-case M is mega.
 *
 * @throws WasherNoiseError `usage` for what is no value, or can be read two ways.
 */
export function parseQuantity(name: string, text: string): Quantity {
  const short = tidy(text);
  if (OPEN.test(short)) return { value: Infinity, unit: "ohm", resolution: 0, text: text.trim() };
  const { digits, suffix } = numberAndUnit(name, short);
  if (suffix === "m") throw refuse(name, text, "needs M (million) or mohm (thousandth)");
  if (/^mf$/i.test(suffix)) throw refuse(name, text, "needs uF (or MFD): mF can be read two ways");
  const unit = unitOf(suffix);
  if (!unit) {
    throw refuse(name, text, "must end in ohm, k, M, uF, nF or MFD, or in nothing for ohm");
  }
  const decimals = digits.split(".")[1]?.length ?? 0;
  const value = Number(digits) * unit.factor;
  if (value < -1 || value > 1e12) throw refuse(name, text, "must lie from 0 to 1e12");
  return {
    value,
    unit: unit.unit,
    resolution: unit.factor * 10 ** -decimals,
    text: text.trim(),
  };
}

/** The same for a value that must be in the unit named and may not be open. */
export function parseFinite(name: string, text: string, unit: ElectricalUnit): Quantity {
  const quantity = parseQuantity(name, text);
  if (quantity.unit === unit && Number.isFinite(quantity.value)) return quantity;
  const example = unit === "ohm" ? "ohm, such as 5700 or 5.7k" : "farad, such as 12.5uF";
  throw refuse(name, text, `must be a value in ${example}`);
}
