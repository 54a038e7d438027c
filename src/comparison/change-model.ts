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

/** What fitting on simulated pairs gave; see `weighChange` for the formula. */
export interface ChangeModel {
  readonly figures: readonly ModelFigure[];
  readonly directions: readonly ModelDirection[];
  /** Nats for each unit of what is left, what is gone, and how unusual the sound after is. */
  readonly signs: Readonly<Record<"left" | "gone" | "unusual", number>>;
  readonly bias: number;
  readonly source: string;
  readonly provenance: "computed";
}
