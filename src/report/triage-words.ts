import type { LikelyPart, TriageSummary } from "../answer/triage-summary.js";
import { COMPONENT_NAMES } from "../diagnosis/data/component-names.data.js";
import type { ActionLabel } from "../inspection/urgency/urgency-action.js";
import type { UrgencyLabel } from "../inspection/urgency/urgency.js";
import { percent } from "./odds.js";

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

export const partWords = ({ component, condition, probability }: LikelyPart): string =>
  `${COMPONENT_NAMES[component]}${condition === null ? "" : ` (${condition})`} ${percent(probability)}`;

export const soundWords = ({ character, phase }: TriageSummary): string => {
  if (character === null) return "";
  const sound = character === "none" ? "no unusual noise" : character;
  return phase === null || phase === "unknown" ? sound : `${sound}, ${phase}`;
};

/** How many recordings there are of each urgency, in words: "3 stop use now, 12 in its turn". */
export function countWords(rows: readonly TriageSummary[]): string {
  const counts = Object.entries(URGENCY_WORDS).map(([label, words]) => {
    const count = rows.filter((row) => row.urgency.label === label).length;
    return count === 0 ? null : `${count} ${words.charAt(0).toLowerCase()}${words.slice(1)}`;
  });
  return counts.filter((text) => text !== null).join(", ");
}
