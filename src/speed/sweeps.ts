/**
 * Simple ways for a drum's speed to go through a short clip, each with numbers that can be varied.
 * Times are shares of the clip, speeds are relative and logarithmic.
 */
export interface Sweep {
  /** ln of relative speed at a share of the clip. */
  readonly lnAt: (numbers: readonly number[], share: number) => number;
  readonly numbers: readonly number[];
  /** First step of each number when the sweep is fitted. */
  readonly steps: readonly number[];
}

/** Speed at which the relative speed of a drum that starts from rest is floored, ln. */
const REST = -3;

const clip = (x: number): number => (x < 0 ? 0 : x > 1 ? 1 : x);

// Holds one speed, goes to another in a straight line of rpm, holds that.
function kneeAt([low, start, width]: readonly number[], share: number): number {
  const done = clip((share - start!) / Math.max(0.03, width!));
  const from = Math.exp(Math.max(REST, low!));
  return Math.log(from + (1 - from) * done);
}

// The logarithm of speed changes by a total, bent: much of it early (negative) or late (positive).
function bendAt([total, bend]: readonly number[], share: number): number {
  return total! * (share - bend! * share * (1 - share));
}

const KNEES_FROM = [-2.5, -1.5, -1, -0.7, -0.45, -0.25];
const STARTS = [0, 0.1, 0.2, 0.35, 0.5, 0.65];
const WIDTHS = [0.12, 0.25, 0.4, 0.6, 0.8, 1];
const FALLS_TO = [0.25, 0.5, 0.8, 1.2];
const TOTALS = [0.15, 0.3, 0.45, 0.6, 0.75, 0.9, 1.05, 1.2, 1.35, 1.5];
const BENDS = [-0.7, 0, 0.7];

function knees(): Sweep[] {
  const out: Sweep[] = [];
  for (const start of STARTS) {
    for (const width of WIDTHS) {
      if (start + width > 1.06) continue;
      for (const low of KNEES_FROM) {
        out.push({ lnAt: kneeAt, numbers: [low, start, width], steps: [0.08, 0.03, 0.05] });
      }
      for (const high of FALLS_TO) {
        if (width < 0.25) continue;
        out.push({ lnAt: kneeAt, numbers: [high, start, width], steps: [0.08, 0.03, 0.05] });
      }
    }
  }
  return out;
}

function bends(): Sweep[] {
  const out: Sweep[] = [{ lnAt: bendAt, numbers: [0, 0], steps: [0.03, 0.2] }];
  for (const size of TOTALS) {
    for (const total of [-size, size]) {
      for (const bend of size < 0.2 ? [0] : BENDS) {
        out.push({ lnAt: bendAt, numbers: [total, bend], steps: [0.04, 0.2] });
      }
    }
  }
  return out;
}

/** Run-ups with and without a hold before and after, run-downs, and even drifts. */
export const SWEEPS: readonly Sweep[] = [...knees(), ...bends()];
