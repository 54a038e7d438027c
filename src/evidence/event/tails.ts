/**
 * Upper tail of the standard normal, P(Z > z).
 *
 * Rational approximation 26.2.17 of Abramowitz and Stegun, Handbook of Mathematical Functions (1964),
 * absolute error below 7.5e-8; beyond z = 4 the asymptotic series 26.2.12, relative error below 1 %.
 */
export function normalTail(z: number): number {
  if (z < 0) return 1 - normalTail(-z);
  const density = Math.exp(-0.5 * z * z) / Math.sqrt(2 * Math.PI);
  if (z > 4) return (density / z) * (1 - 1 / z ** 2 + 3 / z ** 4 - 15 / z ** 6);
  const t = 1 / (1 + 0.2316419 * z);
  const series =
    0.31938153 + t * (-0.356563782 + t * (1.781477937 + t * (-1.821255978 + t * 1.330274429)));
  return density * t * series;
}

/**
 * Upper tail of Student's t through an equivalent normal deviate, P(T > t).
 * Abramowitz and Stegun 26.7.8; error below 0.01 for four or more degrees of freedom.
 */
export function studentTail(t: number, degreesOfFreedom: number): number {
  const z =
    (t * (1 - 1 / (4 * degreesOfFreedom))) / Math.sqrt(1 + (t * t) / (2 * degreesOfFreedom));
  return normalTail(z);
}

/**
 * p-value of Rayleigh's test that angles have no preferred direction, from their number and mean
 * resultant length. Mardia and Jupp, Directional Statistics (2000), eq. 6.3.5 (cited from memory).
 */
export function rayleighTail(count: number, resultant: number): number {
  const z = count * resultant * resultant;
  const p = Math.exp(-z) * (1 + (2 * z - z * z) / (4 * count));
  return Math.min(1, Math.max(1e-12, p));
}
