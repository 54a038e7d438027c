/** Moves NaN to the end, where sorting leaves it too; how many values are left before. */
function putNaNLast(values: Float64Array): number {
  let count = values.length;
  for (let i = count - 1; i >= 0; i--) {
    if (!Number.isNaN(values[i]!)) continue;
    count--;
    values[i] = values[count]!;
    values[count] = NaN;
  }
  return count;
}

/**
 * The value that would stand at place `n` if the values were sorted, NaN last. Reorders the values in place:
 * before place `n` none is greater, behind it none is smaller. Source: Hoare's FIND, Comm. ACM 4 (1961) 321.
 *
 * @param from places before this one are known to hold none greater than the rest
 */
export function nthSmallest(values: Float64Array, n: number, from = 0): number {
  let low = from;
  let high = putNaNLast(values) - 1;
  if (n > high) return values[n]!;
  while (low < high) {
    const pivot = values[n]!;
    let i = low;
    let j = high;
    while (i <= j) {
      while (values[i]! < pivot) i++;
      while (values[j]! > pivot) j--;
      if (i > j) break;
      const swapped = values[i]!;
      values[i] = values[j]!;
      values[j] = swapped;
      i++;
      j--;
    }
    if (j < n) low = i;
    if (i > n) high = j;
  }
  return values[n]!;
}
