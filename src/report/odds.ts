/** Chance in the words that a quote would use. */
export function oddsInWords(probability: number): string {
  if (probability > 0.8) return "very likely";
  if (probability > 0.6) return "likely";
  return probability >= 0.2 ? "possible" : "unlikely";
}

/** Whole percent; small but not impossible chances read "<1 %", those that are not quite certain ">99 %". */
export function percent(probability: number): string {
  const whole = Math.round(100 * probability);
  if (whole === 0 && probability > 0) return "<1 %";
  return whole === 100 && probability < 1 ? ">99 %" : `${whole} %`;
}
