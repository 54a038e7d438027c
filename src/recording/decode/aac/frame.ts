/** A noise-shaping filter over a range of bands in one window. */
export interface TnsFilter {
  readonly window: number;
  readonly fromBand: number;
  readonly toBand: number;
  readonly downwards: boolean;
  /** Prediction coefficients a[1..order]; y[n] = x[n] - Σ a[i] y[n - i]. */
  readonly prediction: Float64Array;
}

// Window sequences; 0 is a single long window.
export const LONG_START = 1;
export const EIGHT_SHORT = 2;
export const LONG_STOP = 3;

export const NOISE_BOOK = 13;
export const INTENSITY_BOOK_NEGATIVE = 14;
export const INTENSITY_BOOK = 15;

/** How the lines of one frame are laid out in windows and bands. */
export interface WindowLayout {
  readonly sequence: number;
  /** 0: sine, 1: Kaiser-Bessel derived. */
  readonly shape: number;
  readonly windowCount: number;
  /** Lines of one window: 1024 or 128. */
  readonly windowLines: number;
  readonly bandCount: number;
  readonly edges: readonly number[];
  /** Windows in each group. */
  readonly groups: readonly number[];
  /** Highest band that noise shaping reaches. */
  readonly tnsLimit: number;
}

/** One channel's part of a frame. Band values stand at group * bandCount + band. */
export interface ChannelFrame {
  readonly layout: WindowLayout;
  readonly books: Uint8Array;
  /** Scale factor, noise energy or intensity position, as the band's codebook says. */
  readonly scales: Int16Array;
  readonly tns: readonly TnsFilter[];
  /** Dequantised and scaled lines, shape [1024], 16-bit full scale. */
  readonly spectrum: Float64Array;
}
