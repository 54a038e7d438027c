import { ACTIONS, type Action } from "../inspection/urgency/urgency-action.js";
import { URGENCIES, type Urgency } from "../inspection/urgency/urgency.js";
import type { Character, Component, Phase, Verdict } from "../machine/words.js";
import type { Answer } from "./answer.js";
import { fileOf, isFailedRow, type Failure, type TriageRow } from "./triage-row.js";

export interface LikelyPart {
  readonly component: Component;
  readonly condition: string | null;
  readonly probability: number;
}

/** What a list shows of one recording: a few hundred bytes, where the whole answer has tens of thousands. */
export interface TriageSummary {
  readonly ticket: string | null;
  readonly file: string;
  readonly urgency: Urgency;
  readonly action: Action;
  /** `failure`: the recording could not be used. */
  readonly verdict: Verdict | "failure";
  readonly verdictText: string;
  readonly character: Character | null;
  readonly phase: Phase | null;
  readonly machine: string | null;
  readonly sha256: string | null;
  /** The three likeliest, where the verdict stands for a ranking; else none. */
  readonly parts: readonly LikelyPart[];
  readonly problem: Failure["problem"] | null;
  readonly other: Readonly<Record<string, string>>;
}

const SHOWN_PARTS = 3;

function partsOf({ verdict, components }: Answer): LikelyPart[] {
  if (verdict.label === "record-again" || verdict.label === "not-a-washer") return [];
  return components.slice(0, SHOWN_PARTS).map(({ component, condition, probability }) => ({
    component,
    condition: condition ?? null,
    probability,
  }));
}

/** The few facts of a row that lists, tables and the order need. */
export function summaryOf(row: TriageRow): TriageSummary {
  const { ticket, urgency, action, other } = row.triage;
  const shared = { ticket, file: fileOf(row), urgency, action, other };
  if (isFailedRow(row)) {
    return {
      ...shared,
      verdict: "failure",
      verdictText: row.problem.message,
      character: null,
      phase: null,
      machine: null,
      sha256: null,
      parts: [],
      problem: row.problem,
    };
  }
  const answer = row as Answer;
  return {
    ...shared,
    verdict: answer.verdict.label,
    verdictText: answer.verdict.text,
    character: answer.character.label,
    phase: answer.phase.label,
    machine: answer.machine.id,
    sha256: answer.recordings[0]!.sha256,
    parts: partsOf(answer),
    problem: null,
  };
}

/**
 * Order of a list, worst first: urgency, then what has to be done, then the likeliest part's chance, then
 * the file's name.
 */
export function worstFirst(a: TriageSummary, b: TriageSummary): number {
  return (
    URGENCIES.indexOf(a.urgency.label) - URGENCIES.indexOf(b.urgency.label) ||
    ACTIONS.indexOf(a.action.label) - ACTIONS.indexOf(b.action.label) ||
    (b.parts[0]?.probability ?? 0) - (a.parts[0]?.probability ?? 0) ||
    (a.file < b.file ? -1 : Number(a.file > b.file))
  );
}
