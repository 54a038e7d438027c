/** A figure of `portraitOf` and how it is standardised: (value - usual) / spread. */
export interface ModelFigure {
  readonly name: string;
  /** Mean over machines in order. */
  readonly usual: number;
  /** Spread between two recordings of one sound, by other phones, places and moments. */
  readonly spread: number;
}

/** A weighted sum of standardised figures in which two recordings of one sound differ by 1 (RMS). */
export interface ModelDirection {
  /** One weight a figure, in the order of `figures`. */
  readonly weights: readonly number[];
  /** With the fault gone: after = offset + slope * before, to within `spread`. */
  readonly slope: number;
  readonly offset: number;
  readonly spread: number;
}

export const CHANGE_SIGNS = ["left", "gone", "unusual", "likeness", "difference"] as const;
export type ChangeSign = (typeof CHANGE_SIGNS)[number];
export type FineSigns = Readonly<Record<"likeness" | "difference", number>>;

/** What fitting on simulated pairs gave; see `weighChange` for the formula. */
export interface ChangeModel {
  readonly figures: readonly ModelFigure[];
  readonly directions: readonly ModelDirection[];
  /**
   * Nats for each unit of what is left, what is gone, how unusual the sound after is, and how alike and how
   * different the fine peaks of both spectra are.
   */
  readonly signs: Readonly<Record<ChangeSign, number>>;
  readonly bias: number;
  /** Fine peaks that speak neither way: what is taken where the recordings are too narrow for them. */
  readonly evenFine: FineSigns;
  /** Fine peaks after a full cure, in the middle of such pairs. */
  readonly curedFine: FineSigns;
  readonly source: string;
  readonly provenance: "computed";
}
