import type { Circumstances } from "../diagnosis/prior.js";
import { rankComponents, type RankedComponent } from "../diagnosis/ranking.js";
import { COMPONENT_NAMES } from "../diagnosis/data/component-names.data.js";
import { hearClip, viewsOf } from "../diagnosis/view.js";
import type { Evidence } from "../evidence/evidence.js";
import { createRandom } from "../foundation/random.js";
import { mean, quantile } from "../foundation/statistics.js";
import type { Washer } from "../machine/profile.js";
import type { Component, Phase } from "../machine/words.js";
import type { Comparison, ComparedFeature, Spread } from "./comparison.js";
import { COMPARISON_LIMITS as LIMITS } from "./limits.data.js";

/** One side of the comparison: the whole recording, and blocks of it heard one by one. */
export interface ComparedSide {
  readonly whole: Evidence;
  readonly blocks: readonly Evidence[];
  readonly phase: Phase;
  readonly drumRpm: number | null;
  readonly bandHz: readonly [number, number];
  /** The recording cannot carry an answer. */
  readonly blocked: boolean;
}

const rank = (evidence: Evidence, washer: Washer, facts: Circumstances): RankedComponent[] =>
  rankComponents(viewsOf([hearClip(evidence)]), washer, facts, "good");

const natsOf = (ranking: readonly RankedComponent[], component: Component): number =>
  ranking.find((row) => row.component === component)?.nats ?? 0;

/** Evidence for a part against a machine in order, nats; a ratio of likelihoods, so free of gain and prior. */
function leadOf(ranking: readonly RankedComponent[], component: Component): number {
  return natsOf(ranking, component) - natsOf(ranking, "normal");
}

const RESAMPLES = 600;

// Blocks of each side are drawn anew with replacement (Künsch, 1989): how far the means' difference spreads.
function fallOf(before: readonly number[], after: readonly number[], value: number): Spread {
  const random = createRandom(4711);
  const drawn = (values: readonly number[]): number => mean(values.map(() => random.pick(values)));
  const middle = mean(before) - mean(after);
  const falls = Array.from({ length: RESAMPLES }, () => drawn(before) - drawn(after));
  return {
    value,
    low: value + quantile(falls, 0.05) - middle,
    high: value + quantile(falls, 0.95) - middle,
  };
}

function whyNot(before: ComparedSide, after: ComparedSide): string | null {
  if (before.blocked || after.blocked) {
    const which = before.blocked ? "recording before" : "recording after";
    return `The ${which} the repair cannot carry an answer. Record 20 seconds or more again.`;
  }
  if (before.phase !== after.phase) {
    return `Before it was ${before.phase}, after it is ${after.phase}. Record the same phase.`;
  }
  const { drumRpm: a } = before;
  const { drumRpm: b } = after;
  if (a !== null && b !== null && Math.abs(Math.log(a / b)) > LIMITS.speedShare) {
    return `The drum turned at ${Math.round(a)} rpm before and at ${Math.round(b)} rpm after. Record at the same speed, with the same programme and no load.`;
  }
  const tops = [before.bandHz[1], after.bandHz[1]];
  if (Math.max(...tops) > LIMITS.bandFactor * Math.min(...tops)) {
    return "One recording carries far less treble than the other. Use the same phone and app, and send the file itself.";
  }
  return null;
}

// The observations that spoke loudest for the part before.
function leadingFeatures(
  ranking: readonly RankedComponent[],
  component: Component,
  before: Evidence,
  after: Evidence,
): ComparedFeature[] {
  const row = ranking.find((one) => one.component === component)!;
  const features = [...row.contributions]
    .filter(({ nats }) => nats > 0.05)
    .sort((x, y) => y.nats - x.nats)
    .map(({ rule }) => rule.feature);
  return [...new Set(features)].slice(0, 5).map((feature) => ({
    feature,
    before: before.features[feature].value,
    after: after.features[feature].value,
  }));
}

const percent = (p: number): string => `${Math.round(100 * p)} %`;

function judged(
  fall: Spread,
  after: readonly RankedComponent[],
  component: Component,
): Pick<Comparison, "verdict" | "text"> {
  const name = COMPONENT_NAMES[component];
  const [first] = after as [RankedComponent];
  const newNoise =
    first.component !== "normal" &&
    first.component !== component &&
    first.probability >= LIMITS.newNoise;
  const lead = leadOf(after, component);
  if (fall.high < -LIMITS.leastFall) {
    return { verdict: "worse", text: `More speaks for the ${name} than before the repair.` };
  }
  if (fall.value < LIMITS.leastFall || fall.low <= 0) {
    return { verdict: "unchanged", text: `What spoke for the ${name} before is still there.` };
  }
  if (newNoise) {
    return {
      verdict: "better",
      text: `The noise of the ${name} is less, but another one is heard: the ${COMPONENT_NAMES[first.component]} (${percent(first.probability)}).`,
    };
  }
  if (first.component === "normal" && lead < -LIMITS.curedLead) {
    return {
      verdict: "cured",
      text: `What spoke for the ${name} is gone; the machine sounds as it should (${percent(first.probability)}).`,
    };
  }
  return { verdict: "better", text: `Less speaks for the ${name} than before, but not nothing.` };
}

/**
 * Is the noise that led to the diagnosis gone?
 *
 * Compares the evidence for the part that led before, in nats against a machine in order, between two
 * recordings of the same machine, phase and speed. All of it comes from ratios within each recording, so
 * gain and distance do not matter. The interval of the fall comes from resampling blocks. Abstains with a
 * reason when the recordings cannot be compared or the first one shows no fault.
 */
export function compareSides(
  before: ComparedSide,
  after: ComparedSide,
  washer: Washer,
  facts: Circumstances,
): Comparison {
  const was = rank(before.whole, washer, facts);
  const is = rank(after.whole, washer, facts);
  const leader = was.find(({ component }) => component !== "normal" && component !== "other")!;
  const { component } = leader;
  const features = leadingFeatures(was, component, before.whole, after.whole);
  const reason = whyNot(before, after);
  if (reason !== null) {
    return { verdict: "cannot tell", text: reason, component, evidence: null, features };
  }
  const lead = leadOf(was, component);
  if (lead < LIMITS.leastBefore || was[0]!.component === "normal") {
    const text =
      "The recording before the repair shows no fault clearly enough to say that it is gone.";
    return { verdict: "cannot tell", text, component, evidence: null, features };
  }
  const leads = (side: ComparedSide): number[] =>
    side.blocks.map((block) => leadOf(rank(block, washer, facts), component));
  const now = leadOf(is, component);
  const fall = fallOf(leads(before), leads(after), lead - now);
  return {
    ...judged(fall, is, component),
    component,
    evidence: { before: lead, after: now, fall },
    features,
  };
}
