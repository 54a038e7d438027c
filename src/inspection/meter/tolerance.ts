import { WasherNoiseError } from "../../foundation/errors.js";
import { parseFinite, type ElectricalUnit } from "./quantity.js";

/** Values from `low` to `high`, both included, in ohm or farad. */
export interface Limits {
  readonly low: number;
  readonly high: number;
}

/** How far a good part may lie from the printed value. */
export type Tolerance =
  { readonly minusPercent: number; readonly plusPercent: number } | { readonly absolute: number };

/** Tolerance letters of IEC 60062, in percent. */
const LETTERS: Readonly<Record<string, number>> = { F: 1, G: 2, J: 5, K: 10, M: 20 };

const refuse = (text: string): WasherNoiseError =>
  new WasherNoiseError(
    "usage",
    `--tolerance must be a percentage such as 10% or -5/+10%, a value with its unit such as 50ohm, ` +
      `or one of the letters F, G, J, K, M; received "${text}".`,
    { name: "--tolerance", received: text },
  );

const percent = (text: string, whole: string): number => {
  const value = Number(text.replace(",", "."));
  if (Number.isFinite(value) && value >= 0 && value < 100) return value;
  throw refuse(whole);
};

/**
 * `10%`, `±10%`, `-5/+10%`, `50ohm`, or a letter of IEC 60062. A bare number is refused: it may mean
 * percent or ohm.
 */
export function parseTolerance(text: string, unit: ElectricalUnit): Tolerance {
  const short = text
    .trim()
    .replace(/\s+/g, "")
    .replace(/^(±|\+-|\+\/-)/, "");
  const letter = LETTERS[short];
  if (letter !== undefined) return { minusPercent: letter, plusPercent: letter };
  const sided = /^[-−]([\d.,]+)%?\/?\+([\d.,]+)%$/.exec(short);
  if (sided) {
    return { minusPercent: percent(sided[1]!, text), plusPercent: percent(sided[2]!, text) };
  }
  const even = /^([\d.,]+)%$/.exec(short);
  if (even) {
    const value = percent(even[1]!, text);
    return { minusPercent: value, plusPercent: value };
  }
  if (/^[\d.,]*$/.test(short)) throw refuse(text);
  const absolute = parseFinite("--tolerance", short, unit).value;
  if (absolute < 0) throw refuse(text);
  return { absolute };
}

/** printed·(100 − minus)/100 to printed·(100 + plus)/100, or printed ± the absolute tolerance. */
export function limitsAround(printed: number, tolerance: Tolerance): Limits {
  if ("absolute" in tolerance) {
    return { low: Math.max(0, printed - tolerance.absolute), high: printed + tolerance.absolute };
  }
  return {
    low: (printed * (100 - tolerance.minusPercent)) / 100,
    high: (printed * (100 + tolerance.plusPercent)) / 100,
  };
}
