/** What two recordings say on whether the noise of the first is gone in the second. */
export const CHANGE_SIGNS = ["difference", "shift", "left"] as const;
export type ChangeSign = (typeof CHANGE_SIGNS)[number];

/**
 * `difference`: ln of the RMS difference of both spectra's fine peaks in dB and a half more, at least 0.8;
 * `shift`: RMS change of the patterns that the rules ask for, at most 0.35; `left`: what the second recording
 * still says for the part in question against a machine in order, as a share of what the first says.
 */
export type Signs = Readonly<Record<ChangeSign, number>>;

/** What fitting on simulated pairs gave: log-odds = bias + Σ weight × sign. */
export interface ChangeModel {
  /** Nats for each unit of a sign. */
  readonly weights: Signs;
  readonly bias: number;
  /** Signs that speak neither way; taken for the fine peaks where the recordings are too narrow for them. */
  readonly even: Signs;
  /**
   * After a full cure: the first two signs in the middle of such pairs, and how far the second recording speaks
   * for the part at most in three of four, nats.
   */
  readonly cured: Omit<Signs, "left"> & { readonly lean: number };
  readonly source: string;
  readonly provenance: "computed";
}
