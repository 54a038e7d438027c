import { expect, test } from "vitest";
import { fftPlan } from "../../src/signal/fft-plan.js";

/** X[k] by its definition. */
function spectrumByDefinition(block: Float64Array): Float64Array {
  const n = block.length;
  const out = new Float64Array(n + 2);
  for (let k = 0; k <= n / 2; k++) {
    for (let i = 0; i < n; i++) {
      out[2 * k]! += block[i]! * Math.cos((2 * Math.PI * k * i) / n);
      out[2 * k + 1]! -= block[i]! * Math.sin((2 * Math.PI * k * i) / n);
    }
  }
  return out;
}

test.each([2, 4, 8, 16, 32, 64, 512])(
  "the spectrum of a real block of %i samples is the sum that defines it, from 0 Hz to half the rate",
  (size) => {
    // No symmetry of its own: a rising sawtooth on a slow curve.
    const block = Float64Array.from(
      { length: size },
      (_, i) => ((i * 7) % 11) - 4 + (i / size) ** 2,
    );
    const bins = new Float64Array(2 * size);
    fftPlan(size).forwardReal(block, bins);
    spectrumByDefinition(block).forEach((value, i) => {
      expect(Math.abs(bins[i]! - value)).toBeLessThan(1e-10 * size);
    });
  },
);

test("a complex transform and its inverse give the block back", () => {
  const block = Float64Array.from({ length: 64 }, (_, i) => ((i * 5) % 13) - 6);
  const bins = new Float64Array(64);
  const back = new Float64Array(64);
  fftPlan(32).forward(block, bins);
  fftPlan(32).inverse(bins, back);
  back.forEach((value, i) => expect(Math.abs(value - block[i]!)).toBeLessThan(1e-12));
});
