/** What two recordings say on whether the noise of the first is gone in the second. */
export const CHANGE_SIGNS = ["difference", "shift", "fade"] as const;
export type ChangeSign = (typeof CHANGE_SIGNS)[number];

/**
 * `difference`: ln of the RMS difference of both spectra's fine peaks in dB and a half more, at least 0.8;
 * `shift`: RMS change of the patterns that the rules ask for, at most 0.35; `fade`: half of what the first
 * recording says for the part in question against a machine in order, less what the second says, nats: 0 midway
 * between gone and as before, at most 4 either way.
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
   * After a full cure, in the middle of such pairs: the first two signs, and how far the second recording still
   * speaks for the part, nats.
   */
  readonly cured: Omit<Signs, "fade"> & { readonly lean: number };
  readonly source: string;
  readonly provenance: "computed";
}
