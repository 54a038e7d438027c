import { percent } from "../foundation/chance-words.js";
import type { LikelyPart, TriageSummary } from "../answer/triage-summary.js";
import { COMPONENT_NAMES } from "../diagnosis/data/component-names.data.js";
import { runAgainCautions } from "../inspection/cautions.js";
import type { ActionLabel } from "../inspection/urgency/urgency-action.js";
import { URGENCIES, type UrgencyLabel } from "../inspection/urgency/urgency.js";

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

/** What to tell with every wish for another recording; null where none is wished for. */
export const recordingCautions = (rows: readonly TriageSummary[]): string | null =>
  rows.some(({ action }) => action.label === "another-recording")
    ? `With each wish for a recording say: ${runAgainCautions().join(" ")}`
    : null;

export const partWords = ({ component, condition, probability }: LikelyPart): string =>
  `${COMPONENT_NAMES[component]}${condition === null ? "" : ` (${condition})`} ${percent(probability)}`;

export const soundWords = ({ character, phase }: TriageSummary): string => {
  if (character === null) return "";
  const sound = character === "none" ? "no unusual noise" : character;
  return phase === null || phase === "unknown" ? sound : `${sound}, ${phase}`;
};

/** Rows under one heading. */
export interface TriageGroup {
  readonly id: UrgencyLabel | "not-used";
  readonly title: string;
  readonly rows: readonly TriageSummary[];
}

/**
 * Rows by urgency, worst first; empty groups are left out. A recording that could not be used says nothing of
 * its machine: unless its owner's words press, it stands apart, at the end.
 */
export function triageGroups(rows: readonly TriageSummary[]): TriageGroup[] {
  const unread = (row: TriageSummary): boolean =>
    row.verdict === "failure" && row.urgency.label === "none";
  const groups: TriageGroup[] = URGENCIES.map((id) => ({
    id,
    title: URGENCY_WORDS[id],
    rows: rows.filter((row) => row.urgency.label === id && !unread(row)),
  }));
  groups.push({ id: "not-used", title: "Could not be used", rows: rows.filter(unread) });
  return groups.filter((group) => group.rows.length > 0);
}

/** How many recordings there are of each urgency, in words: "3 stop use now, 12 in its turn". */
export const countWords = (rows: readonly TriageSummary[]): string =>
  triageGroups(rows)
    .map(
      (group) =>
        `${group.rows.length} ${group.title.charAt(0).toLowerCase()}${group.title.slice(1)}`,
    )
    .join(", ");
