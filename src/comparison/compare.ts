import { COMPONENT_NAMES } from "../diagnosis/data/component-names.data.js";
import { whyNotComparable, type ComparableSide } from "./comparable.js";
import type { ComparedFeature, ComparedPart, Comparison } from "./comparison.js";
import { parseFigureName } from "./figure-name.js";
import { figureWords } from "./figure-words.js";
import { judgeChange, type JudgedChange, type Lean } from "./judge-change.js";
import { reachOf } from "./reach.js";
import { drawPairs, spreadOf, type DrawnPair } from "./resample-blocks.js";
import { summaryOf, type Summary } from "./summary.js";
import { figureChanges, finePeaksChange, weighChange, type FigureChange } from "./weigh-change.js";

/** What is known besides the two recordings. */
export interface ComparisonFacts {
  readonly part: ComparedPart;
  /** The recording before, heard alone, sounds like a machine in order. */
  readonly soundsInOrder: boolean;
  /** What the rules say of the part in each recording; null when they were not asked. */
  readonly lean: Lean | null;
}

const SHOWN_FEATURES = 5;

function featureOf({ figure, before, after, nats }: FigureChange, draws: readonly DrawnPair[]) {
  const drawn = draws.flatMap((pair) => {
    const was = pair.before.get(figure);
    const is = pair.after.get(figure);
    return was === undefined || is === undefined ? [] : [is - was];
  });
  const change = spreadOf(after - before, drawn);
  return { feature: figure, ...figureWords(figure), before, after, change, nats };
}

/** The fine peaks of both spectra, as one figure: the recording before is like itself. */
function finePeaks(was: Summary, is: Summary, draws: readonly DrawnPair[]): ComparedFeature[] {
  const whole = finePeaksChange(was, is);
  if (whole === null) return [];
  const { figure, before, after, nats } = whole;
  const drawn = draws.map((pair) => (finePeaksChange(pair.before, pair.after)?.after ?? 1) - 1);
  const change = spreadOf(after - before, drawn);
  return [{ feature: figure, ...figureWords(figure), before, after, change, nats }];
}

/** The figures that say most for the verdict, one of each kind: neighbours say the same. */
function tellingFeatures(
  figures: readonly FigureChange[],
  speaksForGone: boolean,
  draws: readonly DrawnPair[],
): ComparedFeature[] {
  const sign = speaksForGone ? 1 : -1;
  const seen = new Set<string>();
  const chosen: FigureChange[] = [];
  for (const one of [...figures].sort((a, b) => sign * (b.nats - a.nats))) {
    const { kind } = parseFigureName(one.figure);
    if (seen.has(kind) || sign * one.nats <= 0) continue;
    seen.add(kind);
    chosen.push(one);
    if (chosen.length === SHOWN_FEATURES) break;
  }
  return chosen.map((one) => featureOf(one, draws));
}

function wording({ verdict, faint, strange }: JudgedChange, name: string): string {
  switch (verdict) {
    case "cured":
      return `The noise of the recording before is gone. Check the ${name} once more by hand, as after any repair.`;
    case "better":
      return `The noise that led to the ${name} is less, but nothing says for certain that it is gone.`;
    case "unchanged":
      return `The sound is as it was: nothing says that the noise that led to the ${name} is gone.`;
    case "worse":
      return "The recording after the repair holds a noise that the one before does not have. Diagnose it by itself.";
    case "cannot tell":
      if (strange) {
        return "The sound is another than before, but nothing says that it is nearer to a machine in order. Diagnose the new recording by itself.";
      }
      return faint
        ? "The noise stands out too little in the recording before: even a full cure would hardly show. A hand test decides, or an older recording in which the noise is loud."
        : "The change is too small to say that the noise is gone, and too large to say that it is still there. Record 30 seconds or more of the same phase, with the same phone in the same place.";
  }
}

/**
 * Is the noise gone that the recording before holds?
 *
 * Compares figures of rises, rings, swings and repetitions inside octaves, all of them free of gain and of
 * the slow bends of a phone's response, and weighs "gone" against "still there" (`weighChange`). Intervals
 * come from drawing blocks anew. Abstains with a reason when the recordings cannot be compared, or when
 * the noise before was not heard and nobody names a part.
 */
export function compareSides(
  before: ComparableSide,
  after: ComparableSide,
  { part, soundsInOrder, lean }: ComparisonFacts,
): Comparison {
  const about = {
    component: part.component,
    componentFrom: part.from,
    reach: reachOf(before),
  };
  const reason = whyNotComparable(before, after);
  if (reason !== null) {
    return { verdict: "cannot tell", text: reason, ...about, gone: null, features: [] };
  }
  const was: Summary = summaryOf(before.portrait.blocks);
  const is: Summary = summaryOf(after.portrait.blocks);
  const draws = drawPairs(before.portrait.blocks, after.portrait.blocks);
  const { nats, ...place } = weighChange(was, is);
  const gone = spreadOf(
    nats,
    draws.map((pair) => weighChange(pair.before, pair.after).nats),
  );
  const come = spreadOf(
    weighChange(is, was).nats,
    draws.map((pair) => weighChange(pair.after, pair.before).nats),
  );
  const judged = judgeChange({ gone, come, ...place, lean });
  const features = [
    ...finePeaks(was, is, draws),
    ...tellingFeatures(figureChanges(was, is), gone.value > 0, draws),
  ];
  const unheard = soundsInOrder && part.from === "sound" && judged.verdict === "cured";
  if (unheard) {
    const text =
      "The recording before the repair sounds like a machine in order, so that nothing can be gone from it. If a noise was heard there, name its part with --part.";
    return { verdict: "cannot tell", text, ...about, gone, features };
  }
  const text = wording(judged, COMPONENT_NAMES[part.component]);
  return { verdict: judged.verdict, text, ...about, gone, features };
}
