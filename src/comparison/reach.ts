import { poorSide, type ComparableSide } from "./comparable.js";
import { CHANGE_LIMITS } from "./limits.data.js";
import { summaryOf } from "./summary.js";
import { weighChange } from "./weigh-change.js";

/** Whether a recording from before a repair can show a cure at all: known before there is one from after. */
export interface Reach {
  /** Log-odds for "gone" that a full cure would reach, nats: how clearly the noise stands out. Null: unfit. */
  readonly nats: number | null;
  readonly enough: boolean;
  /** What can be seen with it, or how to record so that a cure can be seen. */
  readonly text: string;
}

/** Common practice, no source. */
const LOUDER =
  "Before the repair, record again for 30 seconds: empty, in the phase and at the speed at which the noise is loudest, with the phone on the side it comes from and voice processing off.";

/** What `compare` could see of a full cure, from the recording before alone. */
export function reachOf(before: ComparableSide): Reach {
  const poor = poorSide(before, "before");
  if (poor !== null) return { nats: null, enough: false, text: poor };
  const was = summaryOf(before.portrait.blocks);
  const { reach: nats } = weighChange(was, was);
  if (nats >= CHANGE_LIMITS.heard) {
    const text = "The noise stands out in the recording before: a full cure would show.";
    return { nats, enough: true, text };
  }
  const text = `The noise stands out too little in the recording before: a full cure would often go unseen. ${LOUDER}`;
  return { nats, enough: false, text };
}
