import type { Component } from "../machine/words.js";

/** Whose noise the comparison is about, and who says so. */
export interface ComparedPart {
  readonly component: Component;
  /** The user, the job's confirmed or most likely part, or the sound of the recording before. */
  readonly from: "told" | "job" | "sound";
}
