/** A measurement as a person reads it: three figures, no exponent. `unit`: as in the list of features. */
export function featureValue(value: number | null, unit: string | undefined): string {
  if (value === null) return "not heard";
  if (unit === "p") return value < 0.001 ? "< 0.001" : value.toFixed(3);
  const size = Math.abs(value);
  if (size >= 100) return value.toFixed(0);
  return size < 0.01 ? value.toFixed(3) : value.toPrecision(3);
}
