/** Greatest common divisor of two positive whole numbers (Euclid). */
export function greatestCommonDivisor(a: number, b: number): number {
  let [larger, smaller] = [a, b];
  while (smaller !== 0) [larger, smaller] = [smaller, larger % smaller];
  return larger;
}

/** Least common multiple of two positive whole numbers. */
export const leastCommonMultiple = (a: number, b: number): number =>
  (a * b) / greatestCommonDivisor(a, b);
