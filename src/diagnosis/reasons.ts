import type { Measurement } from "../evidence/evidence.js";
import type { Character, Component } from "../machine/words.js";
import { PHASE_WORDS } from "./data/phase-words.data.js";
import type { Contribution } from "./contributions.js";
import { partInSentence } from "./part-words.js";
import type { RankedComponent } from "./ranking.js";
import type { PhaseView } from "./view.js";

/** One reason for or against a part, ready to be read. */
export interface Reason {
  /** Id of the rule row, or `phase`, `character`, `prior`. */
  readonly rule: string;
  readonly text: string;
  /** Nats of log-odds that it moves the part; positive in `for`, negative in `against`. */
  readonly weight: number;
  readonly source: string;
}

/** Weaker reasons are noise to a reader. */
const SHOWN_FROM_NATS = 0.15;

function rounded(value: number): string {
  const size = Math.abs(value);
  if (size >= 9.95) return value.toFixed(0);
  return String(Number(value.toFixed(size >= 1 ? 1 : 2)));
}

/** Fills `{name}` from the measurement's detail and `{value}` from its value; unknown names vanish. */
export function fillSentence(template: string, measurement: Measurement): string {
  const filled = template.replace(/\{(\w+)\}/g, (_, name: string) => {
    const found = name === "value" ? measurement.value : measurement.detail?.[name];
    if (found === undefined || found === null) return "?";
    return typeof found === "number" ? rounded(found) : found;
  });
  // A bracket whose figure is not known says nothing: leave it out rather than print a question mark.
  return filled
    .replace(/ ?\([^()]*\?[^()]*\)/g, "")
    .replace(/ (of about|at|around|fits|come) \?( Hz| rpm| times)?/g, "")
    .replace(/\?/g, "some");
}

function ruleReason(one: Contribution): Reason | null {
  const { rule, x, nats } = one;
  const heard = x >= 0.5;
  // A weight that only simulation gave is counted but not told: nobody could say why.
  const known = (heard ? rule.present : rule.absent)?.[one.component] ?? 0;
  const sentence = heard ? rule.heard : rule.notHeard;
  if (sentence === undefined || Math.sign(known) !== Math.sign(nats)) return null;
  const because = nats > 0 && x >= 0.5 ? `${rule.why}` : "";
  const text = fillSentence(sentence, one.measurement);
  return {
    rule: rule.id,
    text: because ? `${text.replace(/\.$/, "")}: ${because}.` : text,
    weight: nats,
    source: rule.source,
  };
}

function phaseReason(
  row: RankedComponent,
  views: readonly PhaseView[],
  mean: number,
): Reason | null {
  const told = views.filter((view) => view.clips[0]!.evidence.phase.given && view.heard > 0.5);
  const weight = row.phaseNats - mean;
  if (told.length === 0) return null;
  const where = told.map((view) => PHASE_WORDS[view.clips[0]!.evidence.phase.label]).join(" and ");
  if (row.component === "normal" || row.component === "other") return null;
  const often = weight > 0 ? "often" : "seldom";
  return {
    rule: "phase",
    text: `Heard ${where}, where a fault of this part is ${often} heard.`,
    weight,
    source: "expert estimate of how often the fault can be heard in each phase",
  };
}

/** What the ear alone says; where the answer as a whole calls the noise otherwise, so that the two agree. */
function byEarAlone(byEar: Character, answered: Character): string {
  if (byEar === answered) {
    return byEar === "none" ? "No unusual noise is heard" : `The noise as a whole is ${byEar}`;
  }
  return byEar === "none"
    ? "Taken by itself, the sound would pass for an ordinary one"
    : `Taken by itself, the noise would pass for ${byEar}`;
}

function characterSentence(component: Component, heard: string, fits: boolean): string {
  if (component === "normal" || component === "other") return `${heard}.`;
  const part = partInSentence(component);
  return fits
    ? `${heard}, which is typical of ${part}.`
    : `${heard}, which is not typical of ${part}.`;
}

function characterReason(
  row: RankedComponent,
  views: readonly PhaseView[],
  mean: number,
  answered: Character,
): Reason | null {
  const clip = views.reduce((a, b) => (b.heard > a.heard ? b : a)).clips[0]!;
  const heard = byEarAlone(clip.character.label, answered);
  const weight = row.characterNats - mean;
  return {
    rule: "character",
    text: characterSentence(row.component, heard, weight > 0),
    weight,
    source: "words that the repair trade uses for the fault",
  };
}

/**
 * The strongest reasons for and against one part, most telling first.
 *
 * @param answered what the answer as a whole calls the noise
 */
export function reasonsOf(
  row: RankedComponent,
  ranking: readonly RankedComponent[],
  views: readonly PhaseView[],
  answered: Character,
): { for: Reason[]; against: Reason[] } {
  const meanOf = (pick: (one: RankedComponent) => number): number =>
    ranking.reduce((sum, one) => sum + one.probability * pick(one), 0);
  const all = [
    ...row.contributions.map(ruleReason),
    phaseReason(
      row,
      views,
      meanOf((one) => one.phaseNats),
    ),
    characterReason(
      row,
      views,
      meanOf((one) => one.characterNats),
      answered,
    ),
  ].filter(
    (reason): reason is Reason => reason !== null && Math.abs(reason.weight) >= SHOWN_FROM_NATS,
  );
  all.sort((a, b) => Math.abs(b.weight) - Math.abs(a.weight));
  return {
    for: all.filter((reason) => reason.weight > 0).slice(0, 5),
    against: all.filter((reason) => reason.weight < 0).slice(0, 3),
  };
}
