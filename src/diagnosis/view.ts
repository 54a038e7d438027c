import type { Evidence, Measurement } from "../evidence/evidence.js";
import type { FeatureId } from "../evidence/features.data.js";
import { PHASES, type Phase } from "../machine/words.js";
import { characterOf, type CharacterAnswer } from "./character.js";

/** One recording as the ranking sees it. */
export interface HeardClip {
  readonly evidence: Evidence;
  readonly character: CharacterAnswer;
}

/** What a machine does at a time; that we do not know which is a matter of shares, not of another phase. */
export type KnownPhase = Exclude<Phase, "unknown">;

export const KNOWN_PHASES = PHASES.filter((phase): phase is KnownPhase => phase !== "unknown");

/** All recordings of one phase, taken together: the same noise is not counted twice. */
export interface PhaseView {
  readonly clips: readonly HeardClip[];
  /** The phases it may be of, each with its chance, summing to 1: a single one when told. */
  readonly phases: readonly { readonly phase: KnownPhase; readonly chance: number }[];
  /**
   * How much of the noise is heard, 0 to 1: square of its chance against that of the clearest view, so
   * that a view in which it is half as sure counts as a quarter heard.
   */
  readonly heard: number;
}

export const hearClip = (evidence: Evidence): HeardClip => ({
  evidence,
  character: characterOf(evidence),
});

/** Phases less likely than this change nothing and cost a ranking each. */
const LEAST_CHANCE = 0.01;

function phasesOf({ phase: { label, given, scores } }: Evidence): PhaseView["phases"] {
  if (given && label !== "unknown") return [{ phase: label, chance: 1 }];
  const known = KNOWN_PHASES.map((phase) => ({ phase, chance: scores[phase] }));
  const sum = known.reduce((total, { chance }) => total + chance, 0);
  if (sum <= 0) return KNOWN_PHASES.map((phase) => ({ phase, chance: 1 / KNOWN_PHASES.length }));
  return known
    .map(({ phase, chance }) => ({ phase, chance: chance / sum }))
    .filter(({ chance }) => chance >= LEAST_CHANCE);
}

const unusualShare = (clip: HeardClip): number => 1 - clip.character.shares.none;

/** Groups the recordings of one machine by phase. Recordings without a phase stand alone. */
export function viewsOf(clips: readonly HeardClip[]): PhaseView[] {
  const groups = new Map<string, HeardClip[]>();
  clips.forEach((clip, i) => {
    const { given, label } = clip.evidence.phase;
    const key = given && label !== "unknown" ? label : `alone ${i}`;
    groups.set(key, [...(groups.get(key) ?? []), clip]);
  });
  const unusual = [...groups.values()].map((group) => Math.max(...group.map(unusualShare)));
  const most = Math.max(...unusual);
  return [...groups.values()].map((group, i) => ({
    clips: group,
    phases: phasesOf(group[0]!.evidence),
    heard: most > 0 ? (unusual[i]! / most) ** 2 : 1,
  }));
}

/** The measurement of a view's clips that is most telling: the mean of values, weighted by quality. */
export function viewMeasurement(view: PhaseView, feature: FeatureId): Measurement | undefined {
  const known = view.clips
    .map((clip) => clip.evidence.features[feature])
    .filter((m): m is Measurement => m !== undefined && m.value !== null && m.quality > 0);
  if (known.length <= 1) return known[0];
  const weight = known.reduce((sum, m) => sum + m.quality, 0);
  const best = known.reduce((a, b) => (b.quality > a.quality ? b : a));
  return {
    ...best,
    value: known.reduce((sum, m) => sum + m.quality * m.value!, 0) / weight,
    quality: weight / known.length,
  };
}
