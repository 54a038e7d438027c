import { COMPONENT_NAMES } from "../diagnosis/data/component-names.data.js";
import { whyNotComparable, type ComparableSide } from "./comparable.js";
import type { ComparedPart } from "./compared-part.js";
import type { Comparison } from "./comparison.js";
import { fineChange } from "./fine-bands.js";
import { judgeChange, type CalledChange } from "./judge-change.js";
import { CHANGE_LIMITS } from "./limits.data.js";
import type { Judged } from "./part-lean.js";
import { reachOf, showsNoFault } from "./reach.js";
import { drawPairs, spreadOf } from "./resample-blocks.js";
import { summaryOf } from "./summary.js";
import { tellingFigures } from "./telling-figures.js";
import { judgedChange, oddsOf, signsOf } from "./weigh-change.js";

/** One recording as it is compared: its spectrum by blocks, and what it is diagnosed as by itself. */
export interface ComparedSide {
  readonly side: ComparableSide;
  readonly diagnosis: Judged;
}

function wording({ verdict, strange }: CalledChange, name: string): string {
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
      return strange
        ? "The sound is another than before, but nothing says that it is nearer to a machine in order. Diagnose the new recording by itself."
        : "The change is too small to say that the noise is gone, and too large to say that it is still there. Record 30 seconds or more of the same phase, with the same phone in the same place.";
  }
}

/**
 * Is the noise gone that led to the diagnosis?
 *
 * Two kinds of evidence, none of which gain, distance or the slow bends of a phone's response change: whether
 * the narrow peaks of both spectra are the same, and what the diagnosis says of each recording by itself, in
 * the figures that both have (`signsOf`). Abstains with a reason when the recordings cannot be compared or the
 * first does not show a fault.
 */
export function compareSides(
  before: ComparedSide,
  after: ComparedSide,
  part: ComparedPart,
): Comparison {
  const about = {
    component: part.component,
    componentFrom: part.from,
    reach: reachOf(before.side, before.diagnosis, part),
  };
  const reason = whyNotComparable(before.side, after.side);
  if (reason !== null) {
    return { verdict: "cannot tell", text: reason, ...about, gone: null, features: [] };
  }
  const [was, is] = [before.side.portrait.blocks, after.side.portrait.blocks];
  // The same in either direction.
  const fine = fineChange(summaryOf(was), summaryOf(is));
  const drawn = drawPairs(was, is).map((pair) => fineChange(pair.before, pair.after));
  const judged = judgedChange(before.diagnosis, after.diagnosis, part.component);
  const turned = judgedChange(after.diagnosis, before.diagnosis, part.component);
  const gone = spreadOf(
    oddsOf(signsOf(fine, judged)),
    drawn.map((one) => oddsOf(signsOf(one, judged))),
  );
  const come = spreadOf(
    oddsOf(signsOf(fine, turned)),
    drawn.map((one) => oddsOf(signsOf(one, turned))),
  );
  const called = judgeChange({
    gone,
    come,
    reach: about.reach.nats!,
    fall: judged.leanBefore - judged.lean,
    rise: judged.wrong - judged.wrongBefore,
    noFaultShown: showsNoFault(before.diagnosis, part),
    alike: (fine?.likeness ?? 0) >= CHANGE_LIMITS.alike && judged.shift < CHANGE_LIMITS.alikeShift,
  });
  const features = tellingFigures({
    fine,
    drawn,
    before: before.diagnosis,
    after: after.diagnosis,
    change: judged,
    part: part.component,
  });
  const faint = called.verdict === "cannot tell" && called.faint;
  const text = faint ? about.reach.text : wording(called, COMPONENT_NAMES[part.component]);
  return { verdict: called.verdict, text, ...about, gone, features };
}
