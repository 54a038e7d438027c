/** A chance in whole percent; one that is small but possible, or nearly certain, is not rounded to the end. */
export function chanceInWords(chance: number): string {
  if (chance > 0 && chance < 0.005) return "under 1 %";
  return chance >= 0.995 && chance < 1 ? "over 99 %" : `${Math.round(100 * chance)} %`;
}
