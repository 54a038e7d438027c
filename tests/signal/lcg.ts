/**
 * The linear congruential generator of Numerical Recipes (1664525, 1013904223, modulo 2^32) from seed
 * 12345, as values in [-1, 1): the same samples can be made in any language.
 */
export function lcgNoise(count: number, seed = 12345): Float64Array {
  let state = seed;
  return Float64Array.from({ length: count }, () => {
    state = (Math.imul(1664525, state) + 1013904223) >>> 0;
    return (2 * state) / 2 ** 32 - 1;
  });
}
