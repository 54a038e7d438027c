import { assertRange } from "../foundation/errors.js";
import { clockRates, type ClockRate } from "./clock-rates.js";
import type { ExpectedLine } from "./expected-line.js";
import { beltLines } from "./lines/belt-lines.js";
import type { LineDraft, LineInputs } from "./lines/draft.js";
import { drumLines } from "./lines/drum-lines.js";
import { fixedLines } from "./lines/fixed-lines.js";
import { gearLines } from "./lines/gear-lines.js";
import { mainsLines } from "./lines/mains-lines.js";
import { motorLines } from "./lines/motor-lines.js";
import { pumpLines } from "./lines/pump-lines.js";
import type { MachineProfile, RunningState, Washer } from "./profile.js";
import { whatRuns } from "./what-runs.js";
import { coverWindows } from "./windows.js";

const LINE_MAKERS = [
  drumLines,
  beltLines,
  gearLines,
  motorLines,
  mainsLines,
  pumpLines,
  fixedLines,
] as const;

const HIGHEST_DRUM_RPM = 3000;
const HIGHEST_MOTOR_RPM = 40_000;

/** A drum and motor speed told together settle the ratio; profiles that cannot have it drop out. */
const RATIO_SLACK = 0.15;

/** A line with the rate of its clock, before it is placed. */
interface Clocked {
  readonly draft: LineDraft;
  readonly rate: ClockRate;
}

function place({ draft, rate }: Clocked): ExpectedLine {
  const { hz, perDrumTurn, spread } = rate;
  return {
    ...draft,
    tolerance: draft.tolerance + (hz === null && perDrumTurn === null ? 0 : spread),
    hz: hz === null ? null : draft.multiple * hz,
    drumOrder: perDrumTurn === null ? null : draft.multiple * perDrumTurn,
  };
}

function linesOf(profile: MachineProfile, state: RunningState, pooled: boolean): Clocked[] {
  const running = whatRuns(profile, state.phase);
  const clocks = clockRates(profile, state, running);
  const inputs: LineInputs = { profile, state, running, clocks, pooled };
  return LINE_MAKERS.flatMap((make) => make(inputs)).map((draft) => ({
    draft,
    rate: clocks[draft.clock],
  }));
}

function canHaveRatio(
  profile: MachineProfile,
  { drumRpm, motorRpm, phase }: RunningState,
): boolean {
  const running = whatRuns(profile, phase);
  if (!drumRpm || !motorRpm || !running.drum || !running.motor) return true;
  const ratio = motorRpm / drumRpm;
  const { low, high } = profile.motorToDrum;
  return ratio >= low * (1 - RATIO_SLACK) && ratio <= high * (1 + RATIO_SLACK);
}

/** Members that disagree on a clock's rate leave it unknown. */
const agreed = (a: number | null, b: number | null): number | null => (a === b ? a : null);

function merge(a: Clocked, b: Clocked): Clocked {
  const { multiple, tolerance } = a.draft;
  const same = multiple === b.draft.multiple && tolerance === b.draft.tolerance;
  return {
    draft: same ? a.draft : { ...a.draft, ...coverWindows(a.draft, b.draft) },
    rate: {
      hz: agreed(a.rate.hz, b.rate.hz),
      perDrumTurn: agreed(a.rate.perDrumTurn, b.rate.perDrumTurn),
      spread: Math.max(a.rate.spread, b.rate.spread),
    },
  };
}

/**
 * The lines that a washer would make, sound or damaged, in a running state.
 *
 * One line per physical event: bearings by ball family and race, counts that differ between makes
 * each their own line or, where their windows overlap, one wide window. A family of washers gives the
 * union of its members' lines, lines of the same `id` merged; when drum and motor speed are both told,
 * members that cannot have that ratio are left out. `hz` is null while the clock stands or its speed
 * is neither told nor follows from a ratio known within 10 %. Only parts that move or are live in the
 * phase have lines: no mains-driven ones in `coast` and `hand-spin`, in `drain` only pump and mains
 * (and the motor's where it drives the pump), gears of a top loader in `wash`.
 *
 * Throws `out-of-range` for a drum speed outside 0-3000 rpm or a motor speed outside 0-40,000 rpm.
 */
export function expectedLines(washer: Washer, state: RunningState): ExpectedLine[] {
  if (state.drumRpm !== null) assertRange("drumRpm", state.drumRpm, 0, HIGHEST_DRUM_RPM);
  if (state.motorRpm !== null) assertRange("motorRpm", state.motorRpm, 0, HIGHEST_MOTOR_RPM);
  const fitting = washer.profiles.filter((profile) => canHaveRatio(profile, state));
  const profiles = fitting.length > 0 ? fitting : washer.profiles;
  const pooled = profiles.length > 1;
  const byId = new Map<string, Clocked>();
  for (const line of profiles.flatMap((profile) => linesOf(profile, state, pooled))) {
    const earlier = byId.get(line.draft.id);
    byId.set(line.draft.id, earlier === undefined ? line : merge(earlier, line));
  }
  return [...byId.values()].map(place);
}
