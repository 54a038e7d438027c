/** A band of constant relative width. */
export interface FractionalOctave {
  readonly midHz: number;
  readonly lowHz: number;
  readonly highHz: number;
}

// Octave ratio of the base-ten system, IEC 61260-1:2014 clause 5.2.
const OCTAVE_RATIO = 10 ** 0.3;

/**
 * Exact mid-band frequency and edges of a third-octave band.
 *
 * midHz = 1000 G^(index/3), edges midHz G^(∓1/6), G = 10^0.3. Source: IEC 61260-1:2014, 5.4 and 5.5.
 *
 * @param index bands above the 1 kHz band; negative below
 */
export function thirdOctave(index: number): FractionalOctave {
  const midHz = 1000 * OCTAVE_RATIO ** (index / 3);
  return {
    midHz,
    lowHz: midHz * OCTAVE_RATIO ** (-1 / 6),
    highHz: midHz * OCTAVE_RATIO ** (1 / 6),
  };
}

/** Third-octave bands that lie wholly in [lowHz, highHz], lowest first. */
export function thirdOctavesWithin(lowHz: number, highHz: number): FractionalOctave[] {
  const bands: FractionalOctave[] = [];
  const first = Math.ceil((Math.log(lowHz / 1000) / Math.log(OCTAVE_RATIO)) * 3 - 1);
  for (let index = first; ; index++) {
    const band = thirdOctave(index);
    if (band.highHz > highHz * (1 + 1e-9)) return bands;
    if (band.lowHz >= lowHz * (1 - 1e-9)) bands.push(band);
  }
}
