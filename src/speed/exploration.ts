import type { ShortTime } from "./frame-evidence.js";
import type { CourseJudge } from "./judge-course.js";
import type { MainsComb } from "./mains-comb.js";
import type { Reading } from "./reading.js";

/** Everything that is worked out before a reading is chosen. */
export interface Exploration {
  readonly judge: CourseJudge;
  readonly shortTime: ShortTime;
  readonly mains: MainsComb;
  /** Best first. */
  readonly readings: readonly Reading[];
}
