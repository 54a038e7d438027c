import type { Sourced } from "../../../machine/words.js";

/** Where the scale-factor bands of AAC begin at one sample rate, and how far noise shaping reaches. */
export interface AacBandRow extends Sourced {
  readonly sampleRateHz: number;
  /** Band edges in a long window of 1024 lines, the end included. */
  readonly long: readonly number[];
  /** Band edges in a short window of 128 lines, the end included. */
  readonly short: readonly number[];
  /** Highest band of temporal noise shaping in long and in short windows. */
  readonly tnsLong: number;
  readonly tnsShort: number;
}

const long96 = [
  0, 4, 8, 12, 16, 20, 24, 28, 32, 36, 40, 44, 48, 52, 56, 64, 72, 80, 88, 96, 108, 120, 132, 144,
  156, 172, 188, 212, 240, 276, 320, 384, 448, 512, 576, 640, 704, 768, 832, 896, 960, 1024,
];
const long64 = [
  0, 4, 8, 12, 16, 20, 24, 28, 32, 36, 40, 44, 48, 52, 56, 64, 72, 80, 88, 100, 112, 124, 140, 156,
  172, 192, 216, 240, 268, 304, 344, 384, 424, 464, 504, 544, 584, 624, 664, 704, 744, 784, 824,
  864, 904, 944, 984, 1024,
];
const long48 = [
  0, 4, 8, 12, 16, 20, 24, 28, 32, 36, 40, 48, 56, 64, 72, 80, 88, 96, 108, 120, 132, 144, 160, 176,
  196, 216, 240, 264, 292, 320, 352, 384, 416, 448, 480, 512, 544, 576, 608, 640, 672, 704, 736,
  768, 800, 832, 864, 896, 928, 1024,
];
const long32 = [
  0, 4, 8, 12, 16, 20, 24, 28, 32, 36, 40, 48, 56, 64, 72, 80, 88, 96, 108, 120, 132, 144, 160, 176,
  196, 216, 240, 264, 292, 320, 352, 384, 416, 448, 480, 512, 544, 576, 608, 640, 672, 704, 736,
  768, 800, 832, 864, 896, 928, 960, 992, 1024,
];
const long24 = [
  0, 4, 8, 12, 16, 20, 24, 28, 32, 36, 40, 44, 52, 60, 68, 76, 84, 92, 100, 108, 116, 124, 136, 148,
  160, 172, 188, 204, 220, 240, 260, 284, 308, 336, 364, 396, 432, 468, 508, 552, 600, 652, 704,
  768, 832, 896, 960, 1024,
];
const long16 = [
  0, 8, 16, 24, 32, 40, 48, 56, 64, 72, 80, 88, 100, 112, 124, 136, 148, 160, 172, 184, 196, 212,
  228, 244, 260, 280, 300, 320, 344, 368, 396, 424, 456, 492, 532, 572, 616, 664, 716, 772, 832,
  896, 960, 1024,
];
const long8 = [
  0, 12, 24, 36, 48, 60, 72, 84, 96, 108, 120, 132, 144, 156, 172, 188, 204, 220, 236, 252, 268,
  288, 308, 328, 348, 372, 396, 420, 448, 476, 508, 544, 580, 620, 664, 712, 764, 820, 880, 944,
  1024,
];
const short96 = [0, 4, 8, 12, 16, 20, 24, 32, 40, 48, 64, 92, 128];
const short64 = [0, 4, 8, 12, 16, 20, 24, 32, 40, 48, 64, 92, 128];
const short48 = [0, 4, 8, 12, 16, 20, 28, 36, 44, 56, 68, 80, 96, 112, 128];
const short24 = [0, 4, 8, 12, 16, 20, 24, 28, 36, 44, 52, 64, 76, 92, 108, 128];
const short16 = [0, 4, 8, 12, 16, 20, 24, 28, 32, 40, 48, 60, 72, 88, 108, 128];
const short8 = [0, 4, 8, 12, 16, 20, 24, 28, 36, 44, 52, 60, 72, 88, 108, 128];

const source = "ISO/IEC 14496-3, subpart 4 (scale-factor bands; TNS limits of the LC profile)";

/** In the order of the sampling frequency index. */
export const AAC_BANDS: readonly AacBandRow[] = [
  {
    sampleRateHz: 96000,
    long: long96,
    short: short96,
    tnsLong: 31,
    tnsShort: 9,
    source,
    provenance: "published",
  },
  {
    sampleRateHz: 88200,
    long: long96,
    short: short96,
    tnsLong: 31,
    tnsShort: 9,
    source,
    provenance: "published",
  },
  {
    sampleRateHz: 64000,
    long: long64,
    short: short64,
    tnsLong: 34,
    tnsShort: 10,
    source,
    provenance: "published",
  },
  {
    sampleRateHz: 48000,
    long: long48,
    short: short48,
    tnsLong: 40,
    tnsShort: 14,
    source,
    provenance: "published",
  },
  {
    sampleRateHz: 44100,
    long: long48,
    short: short48,
    tnsLong: 42,
    tnsShort: 14,
    source,
    provenance: "published",
  },
  {
    sampleRateHz: 32000,
    long: long32,
    short: short48,
    tnsLong: 51,
    tnsShort: 14,
    source,
    provenance: "published",
  },
  {
    sampleRateHz: 24000,
    long: long24,
    short: short24,
    tnsLong: 46,
    tnsShort: 14,
    source,
    provenance: "published",
  },
  {
    sampleRateHz: 22050,
    long: long24,
    short: short24,
    tnsLong: 46,
    tnsShort: 14,
    source,
    provenance: "published",
  },
  {
    sampleRateHz: 16000,
    long: long16,
    short: short16,
    tnsLong: 42,
    tnsShort: 14,
    source,
    provenance: "published",
  },
  {
    sampleRateHz: 12000,
    long: long16,
    short: short16,
    tnsLong: 42,
    tnsShort: 14,
    source,
    provenance: "published",
  },
  {
    sampleRateHz: 11025,
    long: long16,
    short: short16,
    tnsLong: 42,
    tnsShort: 14,
    source,
    provenance: "published",
  },
  {
    sampleRateHz: 8000,
    long: long8,
    short: short8,
    tnsLong: 39,
    tnsShort: 14,
    source,
    provenance: "published",
  },
  {
    sampleRateHz: 7350,
    long: long8,
    short: short8,
    tnsLong: 39,
    tnsShort: 14,
    source,
    provenance: "published",
  },
];
