import { percent } from "../foundation/chance-words.js";
import type { LikelyPart, TriageSummary } from "../answer/triage-summary.js";
import { COMPONENT_NAMES } from "../diagnosis/data/component-names.data.js";
import {
  HOW_TO_RECORD,
  WHILE_IT_RUNS,
  type ActionLabel,
} from "../inspection/urgency/urgency-action.js";
import type { UrgencyLabel } from "../inspection/urgency/urgency.js";

export const URGENCY_WORDS: Readonly<Record<UrgencyLabel, string>> = {
  "stop-use": "Stop use now",
  soon: "Ask or look soon",
  routine: "In its turn",
  none: "Nothing presses",
};

export const ACTION_WORDS: Readonly<Record<ActionLabel, string>> = {
  technician: "technician",
  "customer-check": "customer's check",
  "another-recording": "another recording",
  "no-part": "no part needed",
};

export const VERDICT_WORDS: Readonly<Record<TriageSummary["verdict"], string>> = {
  likely: "likely",
  shortlist: "shortlist",
  "normal-sound": "normal sound",
  "record-again": "record again",
  "not-a-washer": "no washer heard",
  failure: "not readable",
};

/** What is told once with the list, in place of every row that ends with it. */
const ENDINGS = [HOW_TO_RECORD, WHILE_IT_RUNS];

/** What to do; how to record, and what to mind while the machine runs, stand once with the list. */
export function toDoWords({ action: { text } }: TriageSummary): string {
  const ending = ENDINGS.find((one) => text.endsWith(one));
  return ending === undefined ? text : text.slice(0, -ending.length).trim();
}

/** What to send with wishes for recordings and with checks that run the machine; null where there are none. */
export function recordingCautions(rows: readonly TriageSummary[]): string | null {
  const records = rows.some(({ action }) => action.label === "another-recording");
  const runs = records || rows.some(({ action }) => action.text.endsWith(WHILE_IT_RUNS));
  const send = `What to send with each wish for a recording: ${HOW_TO_RECORD} `;
  return runs
    ? `${records ? send : ""}To whoever runs the machine for a recording or a check say: ${WHILE_IT_RUNS}`
    : null;
}

export const partWords = ({ component, condition, probability }: LikelyPart): string =>
  `${COMPONENT_NAMES[component]}${condition === null ? "" : ` (${condition})`} ${percent(probability)}`;

export const soundWords = ({ character, phase }: TriageSummary): string => {
  if (character === null) return "";
  const sound = character === "none" ? "no unusual noise" : character;
  return phase === null || phase === "unknown" ? sound : `${sound}, ${phase}`;
};

/** Rows under one heading. */
export interface TriageGroup {
  readonly id: UrgencyLabel | "no-answer" | "not-used";
  readonly title: string;
  /** How the group is counted: "3 in their turn". */
  readonly counted: string;
  readonly rows: readonly TriageSummary[];
}

const isWarned = ({ urgency }: TriageSummary): boolean => urgency.reasons.length > 0;

/** Whether a row says nothing of its machine, and why. */
function unknown({ verdict, urgency }: TriageSummary): "no-answer" | "not-used" | null {
  if (urgency.label !== "none") return null;
  if (verdict === "failure") return "not-used";
  return verdict === "record-again" || verdict === "not-a-washer" ? "no-answer" : null;
}

const GROUPS: readonly Omit<TriageGroup, "rows">[] = [
  { id: "stop-use", title: URGENCY_WORDS["stop-use"], counted: "to be stopped now" },
  { id: "soon", title: URGENCY_WORDS.soon, counted: "to ask about or look at soon" },
  { id: "routine", title: URGENCY_WORDS.routine, counted: "in turn" },
  { id: "no-answer", title: "Another recording needed", counted: "to be recorded again" },
  { id: "none", title: URGENCY_WORDS.none, counted: "with nothing pressing" },
  { id: "not-used", title: "Could not be used", counted: "could not be used" },
];

/**
 * Rows by urgency, worst first, in each group those with a warning; empty groups are left out. A recording
 * without an answer says nothing of its machine: unless its owner's words press, it does not stand with those
 * of which nothing presses.
 */
export const triageGroups = (rows: readonly TriageSummary[]): TriageGroup[] =>
  GROUPS.map((group) => ({
    ...group,
    rows: rows
      .filter((row) => (unknown(row) ?? row.urgency.label) === group.id)
      .sort((a, b) => Number(isWarned(b)) - Number(isWarned(a))),
  })).filter((group) => group.rows.length > 0);

/** How many of those without an answer come with a warning all the same. */
function alsoWarned({ id, rows }: TriageGroup): string {
  const warned = rows.filter(isWarned).length;
  return id === "no-answer" && warned > 0 ? ` (${warned} with a warning to ask about first)` : "";
}

/** How many recordings there are of each group, in words: "3 to be stopped now, 12 in turn". */
export const countWords = (rows: readonly TriageSummary[]): string =>
  triageGroups(rows)
    .map((group) => `${group.rows.length} ${group.counted}${alsoWarned(group)}`)
    .join(", ");

/** The list in one line. What is said of stopping never denies a warning that stands below. */
export function triageHeadline(rows: readonly TriageSummary[]): string {
  const machines = (count: number): string => `${count} ${count === 1 ? "machine" : "machines"}`;
  const stop = rows.filter(({ urgency }) => urgency.label === "stop-use").length;
  if (stop > 0) return `${machines(stop)} to be stopped now`;
  const warned = rows.filter(isWarned).length;
  if (warned > 0) return `${machines(warned)} may have to be stopped: ask first`;
  return rows.every((row) => unknown(row) !== null)
    ? "No machine could be judged"
    : "Nothing heard asks for a machine to be stopped";
}
