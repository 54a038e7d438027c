/** A number with its sign, minus as printed. */
export const signed = (value: number, digits = 1): string =>
  `${value < 0 ? "\u2212" : "+"}${Math.abs(value).toFixed(digits)}`;
