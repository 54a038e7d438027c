import type { FineLevels } from "./fine-bands.js";

/** Blocks of a recording taken together: mean power by band, dB. A band that any block lacks is missing. */
export function summaryOf(blocks: readonly FineLevels[]): FineLevels {
  const [first = []] = blocks;
  return first.map((_, band) => {
    let power = 0;
    for (const block of blocks) {
      const level = block[band] ?? null;
      if (level === null) return null;
      power += 10 ** (level / 10) / blocks.length;
    }
    return 10 * Math.log10(power);
  });
}
