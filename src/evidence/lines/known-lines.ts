/** Who makes a line that is always to be expected. */
export type LineOwner = "drum" | "motor" | "mains" | "codec";

/** A line that sits at a known place whether or not anything is wrong. */
export interface KnownLine {
  readonly place: number;
  readonly halfWidth: number;
  readonly owner: LineOwner;
}

/** Shape [bins]: 1 where a known line (other than `except`'s) lies. */
export function blankedBins(
  lines: readonly KnownLine[],
  bins: number,
  bin: number,
  except: LineOwner | null = null,
): Uint8Array {
  const out = new Uint8Array(bins);
  for (const { place, halfWidth, owner } of lines) {
    if (owner === except) continue;
    const low = Math.max(0, Math.floor((place - halfWidth) / bin));
    const high = Math.min(bins, Math.ceil((place + halfWidth) / bin) + 1);
    if (high > low) out.fill(1, low, high);
  }
  return out;
}

/**
 * Copy of the evidence in which blanked stretches hold what lies just below them.
 *
 * Plain zeros would make combs that meet a known line weaker than those that do not, and the background
 * a mixture of both; filled up, every place of the axis is equally likely to stand out by chance.
 */
export function withoutBlanked(evidence: Float64Array, blanked: Uint8Array): Float64Array {
  const out = evidence.slice();
  let k = 0;
  while (k < out.length) {
    const start = k;
    while (k < out.length && blanked[k] === 1) k++;
    const length = k - start;
    for (let j = start; j < k; j++) out[j] = j >= length ? out[j - length]! : 0;
    if (length === 0) k++;
  }
  return out;
}

/** Lines at 1, 2, ... times a step up to the top, each as wide as its error makes it. */
export function harmonicLines(
  owner: LineOwner,
  step: number,
  top: number,
  widthAt: (place: number) => number,
): KnownLine[] {
  const count = step > 0 ? Math.floor(top / step) : 0;
  return Array.from({ length: count }, (_, i) => {
    const place = (i + 1) * step;
    return { place, halfWidth: widthAt(place), owner };
  });
}

/** Motor harmonics and the drum-spaced sidebands round them. */
export function motorLines(
  ratio: number,
  drum: number,
  reach: { readonly harmonics: number; readonly sidebands: number; readonly top: number },
  widthAt: (place: number) => number,
): KnownLine[] {
  const out: KnownLine[] = [];
  for (let m = 1; m <= reach.harmonics; m++) {
    for (let j = -reach.sidebands; j <= reach.sidebands; j++) {
      const place = m * ratio + j * drum;
      if (place > 0 && place < reach.top) {
        out.push({ place, halfWidth: widthAt(m * ratio), owner: "motor" });
      }
    }
  }
  return out;
}
