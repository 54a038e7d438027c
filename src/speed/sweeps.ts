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
// With the power off a drum comes to rest while the phone still listens.
const FALLS_TO_REST = [1.7, 2.4];
const TOTALS = [0.15, 0.3, 0.45, 0.6, 0.75, 0.9, 1.05, 1.2, 1.35, 1.5];
const TOTALS_TO_REST = [1.9, 2.4];
const BENDS = [-0.7, 0, 0.7];

function knees(sizes: readonly number[], leastWidth: number): Sweep[] {
  const out: Sweep[] = [];
  for (const start of STARTS) {
    for (const width of WIDTHS) {
      if (start + width > 1.06 || width < leastWidth) continue;
      for (const size of sizes) {
        out.push({ lnAt: kneeAt, numbers: [size, start, width], steps: [0.08, 0.03, 0.05] });
      }
    }
  }
  return out;
}

const bendsOf = (totals: readonly number[]): Sweep[] =>
  totals.flatMap((total) =>
    (Math.abs(total) < 0.2 ? [0] : BENDS).map((bend) => ({
      lnAt: bendAt,
      numbers: [total, bend],
      steps: [0.04, 0.2],
    })),
  );

const negative = (totals: readonly number[]): number[] => totals.map((total) => -total);

const STILL: Sweep = { lnAt: bendAt, numbers: [0, 0], steps: [0.03, 0.2] };

/** Run-ups with and without a hold before and after, run-downs, and even drifts. */
export const SWEEPS: readonly Sweep[] = [
  ...knees(KNEES_FROM, 0),
  ...knees(FALLS_TO, 0.25),
  STILL,
  ...bendsOf(TOTALS),
  ...bendsOf(negative(TOTALS)),
];

/** Run-downs alone, some of them to rest. */
export const RUN_DOWNS: readonly Sweep[] = [
  ...knees([...FALLS_TO, ...FALLS_TO_REST], 0.25),
  ...bendsOf(negative([...TOTALS, ...TOTALS_TO_REST])),
];
