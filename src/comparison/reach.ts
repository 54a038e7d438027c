import { namesPart } from "../machine/words.js";
import { poorSide, type ComparableSide } from "./comparable.js";
import type { ComparedPart } from "./compared-part.js";
import { CHANGE_LIMITS } from "./limits.data.js";
import type { Judged } from "./part-lean.js";
import { reachOdds } from "./weigh-change.js";

/** Whether a recording from before a repair can show a cure at all: known before there is one from after. */
export interface Reach {
  /** Log-odds for "gone" that a full cure would reach, nats: how clearly the fault is heard. Null: unfit. */
  readonly nats: number | null;
  readonly enough: boolean;
  /** What can be seen with it, or how to record so that a cure can be seen. */
  readonly text: string;
}

/** Common practice, no source. */
const LOUDER =
  "Before a repair, record 30 seconds: empty, in the phase and at the speed at which the noise is loudest, with the phone on the side it comes from and voice processing off.";

const inOrder = ({ verdict }: Judged): boolean => verdict.label === "normal-sound";

/** The recording named no part by itself, and nobody else did: what would be cured is not known. */
const partIsGuess = (judged: Judged, { from }: ComparedPart): boolean =>
  from === "sound" && !inOrder(judged) && !namesPart(judged.verdict.label);

/** Whether a recording from before a repair shows nothing that a later one could prove gone. */
export const showsNoFault = (judged: Judged, part: ComparedPart): boolean =>
  inOrder(judged) || partIsGuess(judged, part);

/** What `compare` could see of a full cure, from the recording before alone. */
export function reachOf(before: ComparableSide, judged: Judged, part: ComparedPart): Reach {
  const poor = poorSide(before, "before");
  if (poor !== null) return { nats: null, enough: false, text: poor };
  const nats = reachOdds(judged, part.component);
  if (partIsGuess(judged, part)) {
    const text = `The first recording names no part by itself, and nobody said what was repaired: say it (--part NAME), or record anew. ${LOUDER}`;
    return { nats, enough: false, text };
  }
  if (!inOrder(judged) && nats >= CHANGE_LIMITS.heard) {
    const text =
      nats >= CHANGE_LIMITS.cured
        ? "The fault shows in the first recording: a full cure would most likely show."
        : "The fault shows weakly in the first recording: a full cure may go unseen.";
    return { nats, enough: true, text };
  }
  const text = `The first recording does not show a fault clearly enough to prove it gone. ${LOUDER}`;
  return { nats, enough: false, text };
}
