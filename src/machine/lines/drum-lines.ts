import { bearingFamilies, findBearing } from "../bearing-families.js";
import { bearingLines } from "./bearing-lines.js";
import type { LineDraft, LineInputs } from "./draft.js";

const ONCE: LineDraft = {
  id: "drum/once-per-turn",
  part: "unbalanced-load",
  kind: "shaft",
  clock: "drum",
  multiple: 1,
  tolerance: 0.003,
  seenIn: "envelope",
  healthy: true,
  sidebandMultiple: null,
  label: "drum, once per turn",
  meaning:
    "Every drum breathes a little once per turn; a blow here is load, drum, pulley or weight.",
  source: "shaft rate n / 60",
  provenance: "computed",
};

const TWICE: LineDraft = {
  ...ONCE,
  id: "drum/twice-per-turn",
  part: "levelling",
  multiple: 2,
  label: "drum, twice per turn",
  meaning: "Strong beside the first order when a foot rocks or something strikes on both sides.",
  source: "second order of the shaft rate",
};

const lifterLine = (lifters: number): LineDraft => ({
  ...ONCE,
  id: "drum/lifters",
  part: "drum-lifter",
  kind: "lifter",
  multiple: lifters,
  label: `drum lifters, ${lifters} per turn`,
  meaning:
    "Load falls off the lifters while tumbling; a hard clack at this rate is a loose lifter.",
  source: "number of lifters times the drum's rate",
});

/** Lines of the drum itself and of the bearings that carry it; none while it stands. */
export function drumLines({ profile, running, state, pooled }: LineInputs): LineDraft[] {
  if (!running.drum) return [];
  const rows = profile.drumBearings.flatMap((name) => findBearing(name, profile.ownBearings) ?? []);
  const spinning = state.phase === "spin" || state.phase === "coast" || state.phase === "unknown";
  return [
    ONCE,
    TWICE,
    ...(running.tumbling && profile.lifters > 1 ? [lifterLine(profile.lifters)] : []),
    ...bearingLines(bearingFamilies(rows, profile.drumBearingsKnown), {
      part: "drum-bearing",
      name: "drum bearing",
      clock: "drum",
      // An out-of-balance load carries the load zone round with the drum.
      outerSideband: spinning ? 1 : null,
      seenIn: () => "envelope",
      strikes: !pooled,
    }),
  ];
}
