import { COMPONENT_NAMES } from "../../diagnosis/data/component-names.data.js";
import type { Component } from "../../machine/words.js";
import { outcomeChance } from "../checks/hand-tests.js";
import {
  expectedChance,
  weighFindings,
  type KnownFinding,
  type PartChance,
} from "../checks/weigh-findings.js";
import { CONTRADICTION_LIMITS } from "../data/stop.data.js";
import { chanceInWords } from "../../foundation/chance-words.js";

export interface Contradiction {
  readonly between: "sound-and-finding" | "two-findings" | "machine-and-finding";
  /** The findings in it, as `CHECK=OUTCOME`. */
  readonly findings: readonly string[];
  readonly text: string;
}

const spell = ({ test, outcome }: KnownFinding): string => `${test.check}=${outcome.outcome}`;

const chanceOf = (parts: readonly PartChance[], component: Component): number =>
  parts.find((part) => part.component === component)?.probability ?? 0;

function names(components: readonly Component[]): string {
  const words = components.map((component) => COMPONENT_NAMES[component]);
  return words.length < 2 ? words.join("") : `${words.slice(0, -1).join(", ")} or ${words.at(-1)!}`;
}

/** How many times likelier the outcome is with other parts than with this one. */
function ratioAgainst(
  finding: KnownFinding,
  part: PartChance,
  parts: readonly PartChance[],
): number {
  const own = outcomeChance(finding.test, finding.outcome, part.component);
  const others = expectedChance(finding, parts) - part.probability * own;
  return others / Math.max(1 - part.probability, 1e-9) / Math.max(own, 1e-9);
}

function againstFavourite(
  finding: KnownFinding,
  sound: readonly PartChance[],
  now: readonly PartChance[],
): string | null {
  const first = sound[0]!;
  const { favouredFrom, againstRatio } = CONTRADICTION_LIMITS;
  if (first.probability < favouredFrom) return null;
  if (ratioAgainst(finding, first, sound) < againstRatio) return null;
  const left = chanceOf(now, first.component);
  const fell = left < first.probability ? `: ${chanceInWords(left)} with all findings` : "";
  return (
    `The sound spoke first for ${COMPONENT_NAMES[first.component]} (${chanceInWords(first.probability)}), ` +
    `but ${spell(finding)} speaks against it${fell}.`
  );
}

function pointsElsewhere(finding: KnownFinding, sound: readonly PartChance[]): string | null {
  const pointed = finding.outcome.points.filter((part) =>
    sound.some((one) => one.component === part),
  );
  const heard = pointed.reduce((sum, part) => sum + chanceOf(sound, part), 0);
  if (pointed.length === 0 || heard >= CONTRADICTION_LIMITS.unexpectedBelow) return null;
  return `${spell(finding)} points at ${names(pointed)}, to which the sound gave only ${chanceInWords(heard)}.`;
}

const TRUST =
  "A hand test counts for more than the sound; do it once more if in doubt, and record again before selling a part.";

function withSound(
  finding: KnownFinding,
  sound: readonly PartChance[],
  now: readonly PartChance[],
): Contradiction[] {
  const text = againstFavourite(finding, sound, now) ?? pointsElsewhere(finding, sound);
  if (text === null) return [];
  return [{ between: "sound-and-finding", findings: [spell(finding)], text: `${text} ${TRUST}` }];
}

/** A finding that points only at parts which such a machine does not have. */
function withMachine(finding: KnownFinding, parts: readonly PartChance[]): Contradiction[] {
  const { points } = finding.outcome;
  if (points.length === 0) return [];
  if (points.some((point) => parts.some((part) => part.component === point))) return [];
  return [
    {
      between: "machine-and-finding",
      findings: [spell(finding)],
      text: `${spell(finding)} points at ${names(points)}, which such a machine does not have: check the kind of machine (--machine). The finding changes little here.`,
    },
  ];
}

/** Pairs of findings of which each makes the other unlikely, whatever the sound said. */
function amongFindings(
  findings: readonly KnownFinding[],
  sound: readonly PartChance[],
): Contradiction[] {
  const { againstRatio } = CONTRADICTION_LIMITS;
  const rows: Contradiction[] = [];
  findings.forEach((later, i) => {
    for (const earlier of findings.slice(0, i)) {
      const alone = expectedChance(later, sound);
      const after = expectedChance(later, weighFindings(sound, [earlier]));
      if (after * againstRatio > alone) continue;
      const pair = [spell(earlier), spell(later)];
      rows.push({
        between: "two-findings",
        findings: pair,
        text: `${pair.join(" and ")} hardly go together with one fault: repeat the one you trust less, or look for two faults.`,
      });
    }
  });
  return rows;
}

/**
 * Where sound and findings, or two findings, disagree, to be said aloud.
 *
 * Sound against finding: the outcome is at least 3 times likelier with other parts than with the one
 * the sound favoured, or it points at parts that the sound thought hardly possible. Two findings: one
 * makes the other at least 3 times less likely than it was. Machine against finding: it points only at
 * parts that the machine does not have. `before` are the chances before any finding;
 * `heard` false: they do not come from a sound, so that only findings can disagree.
 */
export function contradictionsOf(
  findings: readonly KnownFinding[],
  before: readonly PartChance[],
  heard: boolean,
): Contradiction[] {
  const now = weighFindings(before, findings);
  const bySound = heard ? findings.flatMap((finding) => withSound(finding, before, now)) : [];
  const byMachine = findings.flatMap((finding) => withMachine(finding, before));
  return [...byMachine, ...bySound, ...amongFindings(findings, before)];
}
