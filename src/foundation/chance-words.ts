/** A chance (0 to 1) rounded to digits behind the point; one between the ends is not rounded onto them. */
export function roundedChance(chance: number, digits: number): number {
  const step = 10 ** -digits;
  const rounded = Number(chance.toFixed(digits));
  if (rounded <= 0 && chance > 0) return step;
  return rounded >= 1 && chance < 1 ? Number((1 - step).toFixed(digits)) : rounded;
}

/** Whether a chance lies between the ends but would be rounded onto one, and onto which. */
function atEnd(chance: number, digits: number): "low" | "high" | null {
  if (Number.isNaN(chance)) return null;
  const shown = Number((100 * chance).toFixed(digits));
  if (shown <= 0 && chance > 0) return "low";
  return shown >= 100 && chance < 1 ? "high" : null;
}

/** Least and greatest figure below the ends: 1 and 99, or 0.1 and 99.9. */
const ends = (digits: number): Readonly<Record<"low" | "high", string>> => ({
  low: String(10 ** -digits),
  high: (100 - 10 ** -digits).toFixed(digits),
});

/**
 * Chance or share (0 to 1) as a bare figure of a hundred for tables and pictures.
 *
 * Small but possible reads `<1`, nearly certain `>99`; with one digit behind the point `<0.1` and `>99.9`.
 */
export function hundredFigure(chance: number, digits = 0): string {
  const end = atEnd(chance, digits);
  if (end === null) return (100 * chance).toFixed(digits);
  return `${end === "low" ? "<" : ">"}${ends(digits)[end]}`;
}

/** `37 %`, `<1 %`, `>99 %`: for columns and pictures. */
export const percent = (chance: number): string => `${hundredFigure(chance)} %`;

/** `37`, `under 1`, `over 99`: the number in "N in 100" and "N of 100". */
export function hundredInWords(chance: number): string {
  const end = atEnd(chance, 0);
  if (end === null) return (100 * chance).toFixed(0);
  return `${end === "low" ? "under" : "over"} ${ends(0)[end]}`;
}

/** `37 %`, `under 1 %`, `over 99 %`: for sentences. */
export const chanceInWords = (chance: number): string => `${hundredInWords(chance)} %`;
