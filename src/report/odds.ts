/** Chance in the words that a quote would use. */
export function oddsInWords(probability: number): string {
  if (probability > 0.8) return "very likely";
  if (probability > 0.6) return "likely";
  return probability >= 0.2 ? "possible" : "unlikely";
}
