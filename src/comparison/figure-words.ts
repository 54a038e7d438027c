import { MODULATION_EDGES_HZ } from "./block-modulation.js";
import { parseFigureName } from "./figure-name.js";
import { OCTAVE_EDGES_HZ } from "./level-frames.js";
import { FINE_PEAKS } from "./weigh-change.js";

/** A figure in the trade's words. */
export interface FigureWords {
  readonly meaning: string;
  readonly unit: "dB" | "ratio";
}

const band = (edges: readonly number[], i: number): string => `${edges[i]} to ${edges[i + 1]} Hz`;

const EVENTS: Readonly<Record<string, string>> = {
  low: "low blows (90 to 355 Hz)",
  middle: "knocks (355 to 1400 Hz)",
  high: "clicks (1.4 to 7 kHz)",
};
const SHAPES: Readonly<Record<string, string>> = {
  rise: "rise over the usual level",
  peak: "peak over the usual level",
  dip: "fall under the usual level",
};

/** What a figure of `portraitOf` says, for a reader who knows machines and not this program. */
export function figureWords(figure: string): FigureWords {
  if (figure === FINE_PEAKS) {
    const meaning =
      "how far the narrow peaks of the spectrum (150 Hz to 7 kHz) are those of the recording before";
    return { meaning, unit: "ratio" };
  }
  const { kind, octave, step } = parseFigureName(figure);
  const where = `at ${band(OCTAVE_EDGES_HZ, octave)}`;
  const [head = "", tail = ""] = kind.split("-");
  const say = (meaning: string, unit: FigureWords["unit"] = "dB"): FigureWords => ({
    meaning,
    unit,
  });
  if (head === "event") return say(`how far ${EVENTS[tail]!} stand out ${where}`);
  if (head === "ring") return say(`how long ${EVENTS[tail]!} ring ${where}`);
  if (kind === "modulation" || kind === "against") {
    return say(`swing of the level ${where}, ${band(MODULATION_EDGES_HZ, step!)} a swing`);
  }
  if (kind === "repetition") return say(`how strictly the sound repeats ${where}`, "ratio");
  if (tail === "together") {
    return say(`how far octaves swing together from ${OCTAVE_EDGES_HZ[octave]} Hz up`, "ratio");
  }
  return say(`${head}s ${where}: ${SHAPES[tail]!}`);
}
