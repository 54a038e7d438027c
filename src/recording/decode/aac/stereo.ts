import {
  INTENSITY_BOOK,
  INTENSITY_BOOK_NEGATIVE,
  NOISE_BOOK,
  type ChannelFrame,
  type WindowLayout,
} from "./frame.js";

/** Calls back with each band of each window: its index and its lines. */
function eachBand(
  layout: WindowLayout,
  visit: (index: number, from: number, to: number) => void,
): void {
  let firstWindow = 0;
  layout.groups.forEach((windows, g) => {
    for (let band = 0; band < layout.bandCount; band++) {
      for (let w = 0; w < windows; w++) {
        const base = (firstWindow + w) * layout.windowLines;
        visit(
          g * layout.bandCount + band,
          base + layout.edges[band]!,
          base + layout.edges[band + 1]!,
        );
      }
    }
    firstWindow += windows;
  });
}

/**
 * Turns mid and side into left and right, and derives intensity bands of the right channel from the left.
 *
 * @param middleSide one flag a band; in intensity bands it turns the sign
 */
export function joinStereo(left: ChannelFrame, right: ChannelFrame, middleSide: Uint8Array): void {
  const l = left.spectrum;
  const r = right.spectrum;
  eachBand(left.layout, (i, from, to) => {
    const book = right.books[i]!;
    if (book >= INTENSITY_BOOK_NEGATIVE) {
      const sign = (book === INTENSITY_BOOK) !== (middleSide[i] === 1) ? 1 : -1;
      const gain = sign * 2 ** (-right.scales[i]! / 4);
      for (let k = from; k < to; k++) r[k] = l[k]! * gain;
      return;
    }
    if (middleSide[i] !== 1 || book === NOISE_BOOK || left.books[i] === NOISE_BOOK) return;
    for (let k = from; k < to; k++) {
      const mid = l[k]!;
      l[k] = mid + r[k]!;
      r[k] = mid - r[k]!;
    }
  });
}

/** A generator of uniform numbers in [-1, 1), the same at each run. */
export interface NoiseSource {
  state: number;
}

function nextNoise(source: NoiseSource): number {
  source.state = (Math.imul(source.state, 1664525) + 1013904223) | 0;
  return source.state / 2147483648;
}

/**
 * Fills the bands that the encoder replaced by noise of known energy: Σ x² = 2^(scale / 2).
 *
 * @param partner the left channel where both channels carry the same noise in bands flagged by `shared`
 */
export function fillNoise(
  frame: ChannelFrame,
  source: NoiseSource,
  partner: ChannelFrame | null = null,
  shared: Uint8Array | null = null,
): void {
  eachBand(frame.layout, (i, from, to) => {
    if (frame.books[i] !== NOISE_BOOK) return;
    const copied = shared?.[i] === 1 && partner?.books[i] === NOISE_BOOK;
    let energy = 0;
    for (let k = from; k < to; k++) {
      const x = copied ? partner.spectrum[k]! : nextNoise(source);
      frame.spectrum[k] = x;
      energy += x * x;
    }
    const gain = 2 ** (frame.scales[i]! / 4) / Math.sqrt(energy || 1);
    for (let k = from; k < to; k++) frame.spectrum[k]! *= gain;
  });
}
