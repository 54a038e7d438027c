import type { Sourced } from "./words.js";

/** What the rates of a ball bearing follow from. */
export interface BallSet extends Sourced {
  readonly designation: string;
  readonly balls: number;
  readonly ballMm: number;
  readonly pitchMm: number;
  /** Contact angle in degrees; 0 (the default) without thrust along the shaft. */
  readonly contactDeg?: number;
}

/** A deep-groove ball bearing with its boundary dimensions. */
export interface BearingRow extends BallSet {
  readonly boreMm: number;
  readonly outsideMm: number;
  readonly widthMm: number;
}

const BOUNDARY = "bore, outside and width: ISO 15; ";
const RECALLED = `${BOUNDARY}balls: makers' practice, recalled; pitch: (bore + outside) / 2`;
const MAKER_TABLE =
  `${BOUNDARY}balls and pitch fitted to the frequency coefficients printed in Timken, ` +
  "Ball Bearing Housed Units catalogue, table A-9";

/**
 * Bearings met in washers. Multiples are never stored: printed tables mix the ball's spin rate with
 * twice that rate from row to row, so they are computed from this geometry.
 */
export const BEARINGS: readonly BearingRow[] = [
  {
    designation: "608",
    boreMm: 8,
    outsideMm: 22,
    widthMm: 7,
    balls: 7,
    ballMm: 3.969,
    pitchMm: 15,
    source: RECALLED,
    provenance: "from memory",
  },
  {
    designation: "6200",
    boreMm: 10,
    outsideMm: 30,
    widthMm: 9,
    balls: 7,
    ballMm: 5.556,
    pitchMm: 20,
    source: RECALLED,
    provenance: "from memory",
  },
  {
    designation: "6201",
    boreMm: 12,
    outsideMm: 32,
    widthMm: 10,
    balls: 7,
    ballMm: 5.953,
    pitchMm: 22,
    source: RECALLED,
    provenance: "from memory",
  },
  {
    designation: "6202",
    boreMm: 15,
    outsideMm: 35,
    widthMm: 11,
    balls: 8,
    ballMm: 5.953,
    pitchMm: 25,
    source: RECALLED,
    provenance: "from memory",
  },
  {
    designation: "6203",
    boreMm: 17,
    outsideMm: 40,
    widthMm: 12,
    balls: 8,
    ballMm: 6.747,
    pitchMm: 28.5,
    source: `${BOUNDARY}balls and pitch: Case Western Reserve University, bearing information page`,
    provenance: "published",
  },
  {
    designation: "6204",
    boreMm: 20,
    outsideMm: 47,
    widthMm: 14,
    balls: 8,
    ballMm: 7.938,
    pitchMm: 33.5,
    source: MAKER_TABLE,
    provenance: "computed",
  },
  {
    designation: "6205",
    boreMm: 25,
    outsideMm: 52,
    widthMm: 15,
    balls: 9,
    ballMm: 7.938,
    pitchMm: 39.04,
    source: `${BOUNDARY}balls and pitch: Case Western Reserve University, bearing information page`,
    provenance: "published",
  },
  {
    designation: "6206",
    boreMm: 30,
    outsideMm: 62,
    widthMm: 16,
    balls: 9,
    ballMm: 9.525,
    pitchMm: 46,
    source: MAKER_TABLE,
    provenance: "computed",
  },
  {
    designation: "6207",
    boreMm: 35,
    outsideMm: 72,
    widthMm: 17,
    balls: 9,
    ballMm: 11.112,
    pitchMm: 53.5,
    source: MAKER_TABLE,
    provenance: "computed",
  },
  {
    // The maker's table above would need a 12.7 mm ball (BPFO 3.547); other makes use 12 mm (3.600).
    designation: "6208",
    boreMm: 40,
    outsideMm: 80,
    widthMm: 18,
    balls: 9,
    ballMm: 12,
    pitchMm: 60,
    source: `${RECALLED}; makes differ`,
    provenance: "from memory",
  },
  {
    designation: "6305",
    boreMm: 25,
    outsideMm: 62,
    widthMm: 17,
    balls: 7,
    ballMm: 11.51,
    pitchMm: 44,
    source: `${RECALLED}, doubtful`,
    provenance: "from memory",
  },
  {
    designation: "6306",
    boreMm: 30,
    outsideMm: 72,
    widthMm: 19,
    balls: 8,
    ballMm: 12,
    pitchMm: 51,
    source: `${RECALLED}, doubtful`,
    provenance: "from memory",
  },
  {
    designation: "6307",
    boreMm: 35,
    outsideMm: 80,
    widthMm: 21,
    balls: 8,
    ballMm: 13.49,
    pitchMm: 57.5,
    source: RECALLED,
    provenance: "from memory",
  },
  {
    designation: "6004",
    boreMm: 20,
    outsideMm: 42,
    widthMm: 12,
    balls: 9,
    ballMm: 6.35,
    pitchMm: 31,
    source: `${BOUNDARY}balls and pitch agree with row 9104 of Timken table A-9 (FTF 0.398, BPFO 3.578)`,
    provenance: "computed",
  },
  {
    designation: "6005",
    boreMm: 25,
    outsideMm: 47,
    widthMm: 12,
    balls: 10,
    ballMm: 6.747,
    pitchMm: 36,
    source: `${RECALLED}, doubtful`,
    provenance: "from memory",
  },
  {
    designation: "6006",
    boreMm: 30,
    outsideMm: 55,
    widthMm: 13,
    balls: 11,
    ballMm: 7.144,
    pitchMm: 42.5,
    source: RECALLED,
    provenance: "from memory",
  },
];
