import { clamp } from "../../foundation/statistics.js";
import type { ExpectedLine, LineKind } from "../../machine/expected-line.js";
import type { Component } from "../../machine/words.js";
import type { ListeningContext } from "../context.js";
import type { LineFinding, Measurement } from "../evidence.js";
import type { FeatureId } from "../features.data.js";
import { measured, missing } from "../measurement.js";
import { carriedBands, MODULATION_BANDS } from "./envelope-bands.js";
import type { ClipViews } from "./line-views.js";

type Belongs = (line: ExpectedLine) => boolean;

const isKind =
  (...kinds: readonly LineKind[]): Belongs =>
  ({ kind }) =>
    kinds.includes(kind);

const isBearingOf =
  (part: Component): Belongs =>
  (line) =>
    line.part === part && line.kind.startsWith("bearing-");

const onMotorOrDrum: Belongs = ({ clock }) => clock === "motor" || clock === "drum";

/** Which expected lines speak for which row of the catalogue. */
const LINES_OF_FEATURE: Partial<Record<FeatureId, Belongs>> = {
  "line-belt": isKind("belt-pass"),
  "line-drum-bearing": isBearingOf("drum-bearing"),
  "line-motor-bearing": isBearingOf("motor-bearing"),
  "line-commutator": isKind("commutator", "armature-slot"),
  "line-pole-pass": (line) =>
    isKind("pole-pass", "cogging", "torque-ripple")(line) && onMotorOrDrum(line),
};

const GOOD_TURNS = 60;
/** A line that another cause explains as well speaks with a quarter of its voice. */
const CONFOUNDED_TRUST = 0.25;

/** How far the clip's length allows lines to be told apart. */
export const lineTrust = (views: ClipViews): number =>
  clamp((views.shafts?.turns ?? GOOD_TURNS / 2) / GOOD_TURNS, 0.3, 1);

/** The line that speaks for a group: unexplained ones first, then the smallest p. */
function spokesman(findings: readonly LineFinding[]): LineFinding | null {
  const ranked = [...findings].sort((a, b) => a.pAdjusted - b.pAdjusted || a.p - b.p);
  const free = ranked.find(({ confounded }) => !confounded);
  const bound = ranked.find(({ confounded }) => confounded);
  if (free && bound && free.pAdjusted > 0.05 && bound.pAdjusted < 0.01) return bound;
  return free ?? bound ?? null;
}

function reportOf(found: LineFinding, context: ListeningContext, trust: number): Measurement {
  const { line, heardHz, heardOrder, pAdjusted, confounded } = found;
  const motorHz = (context.speed.motorRpm?.value ?? 0) / 60;
  const rpm = context.speed.drumRpm?.value ?? null;
  // Where the speed moves, the line's mean frequency and the one speed that is told do not go together.
  const hz = heardOrder === null || rpm === null ? heardHz : (heardOrder * rpm) / 60;
  return measured(pAdjusted, trust * (confounded ? CONFOUNDED_TRUST : 1), {
    hz,
    label: line.label,
    ...(heardOrder === null ? {} : { perTurn: heardOrder }),
    ...(rpm === null ? {} : { rpm }),
    ...(line.clock === "motor" && motorHz > 0 ? { perMotorTurn: heardHz / motorHz } : {}),
  });
}

/** Why a group of lines could not be looked for. */
export function whyMissing(
  context: ListeningContext,
  views: ClipViews,
  belongs: Belongs,
): Measurement {
  const expected = context.expectedLines.filter(belongs);
  if (expected.length === 0) return missing("phase");
  // With the drum turning a gear set is locked: nothing of it can be heard in this phase.
  const gears = expected.every(({ part }) => part === "gear-case");
  if (gears && views.drumHz !== null) return missing("phase");
  if (carriedBands(context, MODULATION_BANDS).length === 0) return missing("band");
  const needsDrum = expected.some(({ clock }) => clock !== "mains" && clock !== "fixed");
  if (needsDrum && context.drumClock === null) return missing("speed");
  if (needsDrum && views.shafts === null) return missing("short");
  return missing(expected.every(({ hz }) => hz === null) ? "speed" : "short");
}

/** One row per group of lines: smallest adjusted p of its lines, or why there is none. */
export function lineFeatures(
  context: ListeningContext,
  views: ClipViews,
  findings: readonly LineFinding[],
): Partial<Record<FeatureId, Measurement>> {
  const rows = Object.entries(LINES_OF_FEATURE).map(([id, belongs]) => {
    const found = spokesman(findings.filter(({ line }) => belongs(line)));
    const row =
      found === null
        ? whyMissing(context, views, belongs)
        : reportOf(found, context, lineTrust(views));
    return [id, row] as const;
  });
  return Object.fromEntries(rows) as Partial<Record<FeatureId, Measurement>>;
}
