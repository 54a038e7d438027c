import type { ListeningContext } from "../context.js";
import type { Measurement, PhaseGuess } from "../evidence.js";
import type { FeatureId } from "../features.data.js";
import { clamp, logSumExp } from "../../foundation/statistics.js";
import { PHASES, type Phase } from "../../machine/words.js";
import { mainsPresence, turningShare } from "../pump/mains-presence.js";
import { levelTrend } from "./level-trend.js";
import { findStrokes } from "../stroke/find-strokes.js";
import type { StrokePattern } from "../stroke/stroke-pattern.js";
import { LEARNED_PHASE_WEIGHTS } from "./phase-learned.data.js";
import { PHASE_PRIORS, PHASE_SIGNS, type PhaseSign, type PhaseSignId } from "./phase-signs.data.js";

export type Features = Readonly<Partial<Record<FeatureId, Measurement>>>;

type StillnessSign =
  "hum-leads" | "no-hum" | "stops-without-hum" | "tone-leads" | "level-swings" | "dull-steady";

/** A phase is named only when it is at least this likely and clearly ahead of the next. */
const NAMED_FROM = 0.5;

/** From 0 below `low` to 1 above `high`. */
const grade = (value: number, low: number, high: number): number =>
  clamp((value - low) / (high - low), 0, 1);

/** Strength of a feature between two values, weighed by its quality; 0 when missing. */
function shown(features: Features, id: FeatureId, low: number, high: number): number {
  const feature = features[id];
  if (feature === undefined || feature.value === null) return 0;
  return grade(feature.value, low, high) * feature.quality;
}

/** The same for what is missed: 1 at or below `low`; 0 when it was not measured. */
function lacking(features: Features, id: FeatureId, low: number, high: number): number {
  const feature = features[id];
  if (feature === undefined || feature.value === null) return 0;
  return (1 - grade(feature.value, low, high)) * feature.quality;
}

interface Speeds {
  /** Trust that a drum's turning is heard at all, 0 to 1. */
  readonly heard: number;
  readonly rpm: number;
  readonly falls: number;
  readonly rises: number;
}

function speeds(context: ListeningContext, pattern: StrokePattern | null): Speeds {
  const { speed } = context;
  if (speed.drumRpm === null) return { heard: 0, rpm: 0, falls: 0, rises: 0 };
  const doubts = ["octave-ambiguous", "only-modulation", "told-speed-contradicted"] as const;
  let heard = 0.4 + 0.6 * turningShare(context);
  for (const doubt of doubts) if (speed.notes.includes(doubt)) heard *= 0.7;
  // Strokes of an agitator are easily read as a slow drum.
  if (pattern?.kind === "agitation" && !pattern.drumRate) heard *= 0.3;
  const [low, high] = speed.spanRpm ?? [speed.drumRpm.value, speed.drumRpm.value];
  const range = grade(Math.log(high / Math.max(1, low)), 0.05, 0.3);
  return {
    heard,
    rpm: speed.drumRpm.value,
    falls: speed.movement === "falling" ? range : 0,
    rises: speed.movement === "rising" ? range : 0,
  };
}

/** A level that moves one way all the time; where the speed is heard, it says the same better. */
function trends(
  context: ListeningContext,
  speedHeard: number,
): Record<"level-falls" | "level-rises", number> {
  const trend = levelTrend(context);
  if (trend === null) return { "level-falls": 0, "level-rises": 0 };
  const sure = (1 - speedHeard) * grade(trend.explained, 0.4, 0.7);
  return {
    "level-falls": sure * grade(-trend.changeDb, 5, 12),
    "level-rises": sure * grade(trend.changeDb, 5, 12),
  };
}

/** What speaks for a thing that runs without the drum, or for a drum that runs without power. */
function stillnessSigns(
  features: Features,
  mains: number,
  goes: boolean,
): Record<StillnessSign, number> {
  return {
    "hum-leads": shown(features, "mains-share", 0.15, 0.5),
    "no-hum": 1 - mains,
    "stops-without-hum": goes ? 1 - mains : 0,
    "tone-leads": shown(features, "tone-share", 0.1, 0.35),
    "level-swings": shown(features, "loudness-steadiness", 5, 12),
    "dull-steady": lacking(features, "swing-low", 2.5, 5),
  };
}

/** How strongly each sign is there, 0 to 1. */
function strengths(context: ListeningContext, features: Features): Record<PhaseSignId, number> {
  const pattern = findStrokes(context);
  const { heard, rpm, falls, rises } = speeds(context, pattern);
  // What goes on and off turns something, whether its speed is heard or not.
  const goes = pattern !== null || context.speed.movement === "stop-and-go";
  // A speed that is not heard is no drum that stands: hum that leads the sound makes it likelier.
  const hum = shown(features, "mains-share", 0.05, 0.35);
  const stands = context.speed.movement === "still" ? 1 : 0.5 + 0.5 * hum;
  const trend = trends(context, heard);
  const moves = Math.max(trend["level-falls"], trend["level-rises"]);
  const noShaft = (1 - heard) * (1 - moves) * (goes ? 0.4 : stands);
  const mains = mainsPresence(context);
  const fast = heard * grade(rpm, 150, 260);
  const slow = heard * (1 - grade(rpm, 58, 75)) * grade(rpm, 15, 25);
  const strokes =
    pattern !== null && !pattern.drumRate ? Math.min(1, pattern.strokes.length / 8) : 0;
  const cut = features["noise-stops-with-power"];
  return {
    "spin-speed": fast,
    "spreading-speed": Math.max(0, heard - fast - slow) * grade(rpm, 15, 25),
    "tumble-speed": slow * (1 - falls) * (1 - rises),
    "speed-rises": heard * rises,
    "speed-falls": heard * falls,
    ...trend,
    "no-shaft": noShaft,
    "agitation-strokes": pattern?.kind === "agitation" ? strokes : 0,
    "on-off-cycles": pattern?.kind === "cycles" ? Math.min(1, pattern.strokes.length / 3) : 0,
    "stop-and-go": context.speed.movement === "stop-and-go" ? 1 : 0,
    "mains-without-shaft": mains * noShaft,
    "no-mains-without-shaft": (1 - mains) * noShaft,
    "mains-while-slowing": mains * heard * falls,
    "hiss-without-shaft": noShaft * shown(features, "jet-hiss", 0.15, 0.5),
    "crackle-without-shaft": noShaft * shown(features, "pump-crackle", 0.35, 0.7),
    "knocks-without-shaft": noShaft * shown(features, "pump-knock", 0.02, 0.2),
    "sound-cut": cut?.value != null && cut.value < 0.01 ? cut.quality : 0,
    ...stillnessSigns(features, mains, goes),
  };
}

/** What a sign says of a phase: the expert's weight and what simulation adds to it. */
function weightOf(sign: PhaseSign, phase: Phase): number {
  return (sign.logOdds[phase] ?? 0) + (LEARNED_PHASE_WEIGHTS[`${sign.id}/${phase}`] ?? 0);
}

/** Probabilities of the phases from the signs heard, summing to 1. */
export function phaseScores(
  strength: Readonly<Record<PhaseSignId, number>>,
): Record<Phase, number> {
  const log = PHASES.map((phase) => {
    let sum = PHASE_PRIORS[phase];
    for (const sign of PHASE_SIGNS) sum += strength[sign.id] * weightOf(sign, phase);
    return sum;
  });
  const total = logSumExp(log);
  return Object.fromEntries(PHASES.map((phase, i) => [phase, Math.exp(log[i]! - total)])) as Record<
    Phase,
    number
  >;
}

function likeliest(scores: Readonly<Record<Phase, number>>): Phase {
  let best: Phase = "unknown";
  for (const phase of PHASES) if (scores[phase] > scores[best]) best = phase;
  return scores[best] >= NAMED_FROM ? best : "unknown";
}

/**
 * What the machine is doing. A told phase is the answer and `given`; the scores are worked out all the
 * same, so that a told phase which the sound contradicts can be noticed. Otherwise additive log-odds of
 * the signs in `phase-signs.data.ts`, through a softmax; "unknown" competes with a weight of its own
 * and is the answer when nothing reaches one half.
 */
export function guessPhase(context: ListeningContext, features: Features): PhaseGuess {
  const signs = strengths(context, features);
  const scores = phaseScores(signs);
  const given = context.toldPhase !== "unknown";
  return { label: given ? context.toldPhase : likeliest(scores), given, scores, signs };
}
