/** Units of figures from 0 to 1 of which neither end is said unless it is so. */
const OF_ONE = new Set(["share", "p"]);

/**
 * A figure of a recording with its unit's usual digits, no exponent; `digits`: behind the point, for small
 * ones three. What is nearly none or nearly all reads `<0.001` or `>0.99`.
 */
export function comparedFigure(value: number, unit: string, digits: 1 | 2 = 2): string {
  const size = Math.abs(value);
  if (size >= 100) return value.toFixed(0);
  if (size > 0 && size < 0.0005) return value < 0 ? ">-0.001" : "<0.001";
  const text = value.toFixed(size > 0 && size < 0.1 && digits === 2 ? 3 : digits);
  return OF_ONE.has(unit) && value < 1 && Number(text) >= 1 ? ">0.99" : text;
}
