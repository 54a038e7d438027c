import type { Answer, AnsweredRecording, AnsweredSpeed } from "../../answer/answer.js";
import { COMPONENT_NAMES } from "../../diagnosis/data/component-names.data.js";
import type { DiagnosedComponent } from "../../diagnosis/diagnose.js";
import type { Character, Component } from "../../machine/words.js";
import type { Estimate } from "../../speed/speed-estimate.js";
import { outside, type Markup } from "./markup.js";

export const CHARACTER_WORDS: Readonly<Record<Character, string>> = {
  grinding: "a grinding noise",
  whirring: "a whirring noise",
  thumping: "a thumping noise",
  squealing: "a squealing noise",
  rattling: "a rattling noise",
  humming: "a humming noise",
  none: "no unusual noise",
};

export const partName = (component: Component): string => COMPONENT_NAMES[component];

export const withCondition = ({ component, condition }: DiagnosedComponent): string =>
  partName(component) + (condition === undefined ? "" : `, ${condition}`);

const whole = (value: number): string => String(Math.round(value));

/** A speed with its 90 % interval. */
export const rpmWords = ({ value, low, high }: Estimate): string =>
  `${whole(value)} rpm (${whole(low)} to ${whole(high)})`;

/** Drum speed as an owner understands it. */
export const turnsWords = (speed: AnsweredSpeed): string =>
  speed.drumRpm === null
    ? "the speed of the drum could not be heard"
    : `the drum at about ${whole(speed.drumRpm.value)} turns a minute`;

const SPEED_NOTES: Readonly<Record<AnsweredSpeed["notes"][number], string>> = {
  "told-speed-contradicted": "The sound contradicts the speed that was told.",
  "told-speed-used": "The speed is the one that was told; the sound shows none.",
  "octave-ambiguous": "Half or double this speed cannot be ruled out.",
  "ratio-estimated": "Motor and drum speed are linked by an estimated ratio.",
  "only-modulation": "The speed shows only in how the noise swells.",
  "no-speed-heard": "No speed can be heard in this recording.",
  "motor-only": "Only the motor's own rotation is heard, not the drum's.",
  "tumble-range-only": "The drum turns slowly; its speed is known roughly.",
};

export const speedNotes = (speed: AnsweredSpeed): string[] =>
  speed.notes.map((note) => SPEED_NOTES[note]);

/** The faults of a ranking, likeliest first: what is neither normal nor outside the list. */
export const faultsOf = (answer: Answer): DiagnosedComponent[] =>
  answer.components.filter(({ component }) => component !== "normal" && component !== "other");

/** The verdict stands for a ranking: parts may be named. */
export const isRanked = (answer: Answer): boolean =>
  answer.verdict.label !== "record-again" && answer.verdict.label !== "not-a-washer";

export const phaseWords = ({ phase }: Pick<AnsweredRecording, "phase">): string =>
  phase.label === "unknown"
    ? "phase not known"
    : `${phase.label} (${phase.given ? "as told" : "judged from the sound"})`;

/** A file by its name alone: a page that is passed on does not tell the sender's folders. */
export const fileName = (path: string): Markup => outside(path.split(/[\\/]/).at(-1)!);
