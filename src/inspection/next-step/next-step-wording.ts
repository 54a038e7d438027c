import { COMPONENT_NAMES } from "../../diagnosis/data/component-names.data.js";
import type { Audience, MachineEnd } from "../checks/hand-test.js";
import type { PartChance } from "../checks/weigh-findings.js";
import type { StopReason } from "../plan/stop.js";
import { chanceInWords } from "../../foundation/chance-words.js";

export interface StopFacts {
  readonly parts: readonly PartChance[];
  readonly audience: Audience;
  /** Tests of which one must point at the first part before a price is said of it; none when that is done. */
  readonly beforeQuote: readonly { readonly check: string; readonly how: string }[];
  /** No part is likely that may come loose when the machine runs. */
  readonly safeToRun: boolean;
}

/** "Take the belt off and push the drum by hand (belt-off-spin)." */
const testWords = ({ check, how }: StopFacts["beforeQuote"][number]): string =>
  `${how.replace(/\.$/, "")} (${check}).`;

/** Who goes on, or how; nobody is asked to run a machine that must not run. */
function afterwards(reason: StopReason, { audience, safeToRun }: StopFacts): string {
  if (!asksForRecording(reason, audience)) return " The rest needs a technician.";
  return safeToRun
    ? " Record again, at its loudest."
    : " Do not run the machine for another recording before that part was found in order.";
}

const WANT_SOUND: readonly (StopReason | null)[] = ["settled", "too-little", "nothing-left"];

/** Whether the reason to stop comes with the advice to record again, for which the machine has to run. */
export const asksForRecording = (reason: StopReason | null, audience: Audience): boolean =>
  audience !== "customer" && WANT_SOUND.includes(reason);

/** Why to stop, with what to do instead. */
export function stopText(reason: StopReason, facts: StopFacts): string {
  const { parts, beforeQuote } = facts;
  const first = parts[0]!;
  const part = `${COMPONENT_NAMES[first.component]} (${chanceInWords(first.probability)})`;
  const visit = afterwards(reason, facts);
  switch (reason) {
    case "found":
      return beforeQuote.length === 0
        ? `Stop here: ${part}, found by hand. No further check is worth its minutes.`
        : `Stop searching: ${part}, found by hand. Before a price is said of it one check is left, unplugged. ${beforeQuote.map(testWords).join(" ")}`;
    case "in-order":
      return `Stop here: very likely a sound the machine should make (${chanceInWords(first.probability)}). Sell no part.`;
    case "settled":
      return `Stop here: whatever the remaining checks show, ${part} stays first.${visit}`;
    case "too-little":
      return `Stop here: the remaining checks would hardly ever find the fault. Likeliest: ${part}.${visit}`;
    case "nothing-left":
      return `Every check for this machine and person is done. Likeliest: ${part}.${visit}`;
  }
}

const ENDS: Readonly<Record<MachineEnd, string>> = {
  front: "the front, low down",
  rear: "the rear",
  top: "the top",
  underneath: "underneath",
};

/** Which end to open first, and what comes before that. */
export function openText(
  { end, before }: { readonly end: MachineEnd; readonly before: number },
  kindKnown: boolean,
  audience: Audience,
): string {
  if (audience === "customer") return "Nothing is opened but the pump filter's own flap.";
  const start =
    before === 0
      ? `Open ${ENDS[end]} first`
      : `${before === 1 ? "One check needs" : `${before} checks need`} nothing more opened; then open ${ENDS[end]}`;
  const doubt = kindKnown
    ? ""
    : " (counted for a top loader; on a front loader belt and motor are at the rear: tell the kind with --machine)";
  return `${start}${doubt}.`;
}
