/** A check that separates the parts still in question. */
export interface NextCheck {
  /** Stable id of the check, such as `belt-off-spin`. */
  readonly check: string;
  /** How to do it and what the outcomes mean, in a few sentences. */
  readonly text: string;
  readonly minutes: number;
  readonly audience: "customer" | "technician";
  /** The parts it tells apart, as component ids. */
  readonly separates: readonly string[];
  /** What the check is for, in a few words. */
  readonly why: string;
}
