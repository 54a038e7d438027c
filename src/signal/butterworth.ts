/** One second-order section: y = b0 x + b1 x' + b2 x'' - a1 y' - a2 y''. */
export interface Section {
  readonly b: readonly [number, number, number];
  readonly a: readonly [number, number];
}

/**
 * Butterworth filter of even order as second-order sections, by the bilinear transform with the cutoff
 * prewarped. Source: the poles of the prototype lie at e^(iπ(2k+n+1)/2n); Oppenheim and Schafer,
 * Discrete-Time Signal Processing, ch. 7.
 *
 * @param cutoff -3 dB frequency as a share of the sample rate, 0 to 0.5
 */
export function butterworth(kind: "low" | "high", order: 2 | 4, cutoff: number): Section[] {
  const w = Math.tan(Math.PI * cutoff);
  const sections: Section[] = [];
  for (let k = 0; k < order / 2; k++) {
    const damping = 2 * Math.sin((Math.PI * (2 * k + 1)) / (2 * order));
    const scale = 1 / (1 + damping * w + w * w);
    const gain = kind === "low" ? w * w * scale : scale;
    sections.push({
      b: [gain, kind === "low" ? 2 * gain : -2 * gain, gain],
      a: [2 * (w * w - 1) * scale, (1 - damping * w + w * w) * scale],
    });
  }
  return sections;
}

/** Runs samples through sections one after the other, from rest. Shape as the input. */
export function filterThrough(samples: Float64Array, sections: readonly Section[]): Float64Array {
  const out = samples.slice();
  for (const { b, a } of sections) {
    const [b0, b1, b2] = b;
    const [a1, a2] = a;
    let s1 = 0;
    let s2 = 0;
    for (let i = 0; i < out.length; i++) {
      const x = out[i]!;
      const y = b0 * x + s1;
      s1 = b1 * x - a1 * y + s2;
      s2 = b2 * x - a2 * y;
      out[i] = y;
    }
  }
  return out;
}
