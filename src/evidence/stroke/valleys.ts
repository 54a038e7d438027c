/**
 * Lowest places between rises of at least `rise` on either side, in order. A place counts when the track
 * had come down to it by `rise` (or begins there) and climbs by `rise` after it. Places to be left out
 * (`excluded` = 1) break the track: no valley is carried across them.
 */
export function valleys(track: Float64Array, excluded: Uint8Array, rise: number): number[] {
  const found: number[] = [];
  let lowest = 0;
  let highest = 0;
  let seeksLow = true;
  for (let i = 1; i < track.length; i++) {
    if (excluded[i]) {
      lowest = highest = i + 1;
      seeksLow = true;
      continue;
    }
    const value = track[i]!;
    if (seeksLow) {
      if (value < track[lowest]!) lowest = i;
      if (value > track[lowest]! + rise) {
        found.push(lowest);
        seeksLow = false;
        highest = i;
      }
    } else {
      if (value > track[highest]!) highest = i;
      if (value < track[highest]! - rise) {
        seeksLow = true;
        lowest = i;
      }
    }
  }
  // The end of the track closes the last stretch when it has come down far enough.
  if (seeksLow && lowest > (found[found.length - 1] ?? 0)) found.push(lowest);
  return found;
}
