/**
 * Ranges in which the modes of struck bodies are drawn. Bands follow the trade's description of where each blow
 * lies in the spectrum; all numbers from memory, none measured.
 */
interface BodyRow {
  readonly modes: readonly [number, number];
  readonly hz: readonly [number, number];
  /** Decay to 1/e of the lowest modes. */
  readonly decaySeconds: readonly [number, number];
  /** Above this the blow itself holds little. */
  readonly softHz: readonly [number, number];
}

export type BodyKind =
  | "panel"
  | "cast"
  | "tub"
  | "cabinet"
  | "shell"
  | "coin"
  | "click"
  | "teeth"
  | "foot"
  | "pipe"
  | "rubber"
  | "laundry";

export const BODIES: Readonly<Record<BodyKind, BodyRow>> = {
  panel: { modes: [10, 18], hz: [70, 2600], decaySeconds: [0.05, 0.2], softHz: [700, 3000] },
  cast: { modes: [4, 8], hz: [80, 620], decaySeconds: [0.015, 0.06], softHz: [250, 700] },
  tub: { modes: [7, 13], hz: [75, 1000], decaySeconds: [0.02, 0.07], softHz: [300, 1200] },
  cabinet: { modes: [4, 8], hz: [32, 300], decaySeconds: [0.05, 0.16], softHz: [120, 400] },
  shell: { modes: [8, 14], hz: [280, 4500], decaySeconds: [0.03, 0.18], softHz: [1500, 6000] },
  coin: { modes: [3, 8], hz: [1900, 9500], decaySeconds: [0.008, 0.045], softHz: [6000, 14_000] },
  click: { modes: [4, 9], hz: [900, 7500], decaySeconds: [0.0012, 0.007], softHz: [3500, 12_000] },
  teeth: { modes: [6, 12], hz: [450, 5200], decaySeconds: [0.003, 0.016], softHz: [1800, 6000] },
  foot: { modes: [4, 8], hz: [350, 2300], decaySeconds: [0.006, 0.03], softHz: [900, 2600] },
  pipe: { modes: [3, 6], hz: [60, 900], decaySeconds: [0.04, 0.2], softHz: [200, 900] },
  rubber: { modes: [3, 6], hz: [130, 1500], decaySeconds: [0.005, 0.02], softHz: [350, 1600] },
  laundry: { modes: [4, 7], hz: [45, 350], decaySeconds: [0.02, 0.07], softHz: [90, 260] },
};
