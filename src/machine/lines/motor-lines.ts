import { bearingFamilies, findBearing } from "../bearing-families.js";
import { usualMotorHz } from "../usual-speeds.js";
import type { Component } from "../words.js";
import { bearingLines } from "./bearing-lines.js";
import {
  POOLED_VARIANTS,
  seenInAt,
  type LineDraft,
  type LineInputs,
  type MotorView,
} from "./draft.js";
import { brushMotorLines } from "./brush-motor-lines.js";
import { inductionLines } from "./induction-lines.js";
import { magnetLines } from "./magnet-lines.js";

const ROTATION_PART: Readonly<Record<string, Component>> = {
  belt: "motor-pulley",
  coupling: "motor-coupling",
};

function rotationLines({ profile, seenIn }: MotorView): LineDraft[] {
  const part = ROTATION_PART[profile.drive];
  if (part === undefined) return [];
  const once: LineDraft = {
    id: `${part}/once-per-turn`,
    part,
    kind: "shaft",
    clock: "motor",
    multiple: 1,
    tolerance: 0.003,
    seenIn: seenIn(1),
    healthy: true,
    sidebandMultiple: null,
    label: "motor, once per turn",
    meaning:
      "Every motor hums a little once per turn; a raised one is a loose or bent pulley or coupling.",
    source: "shaft rate n / 60",
    provenance: "computed",
  };
  if (profile.drive !== "coupling") return [once];
  return [
    once,
    {
      ...once,
      id: "motor-coupling/dogs",
      multiple: 3,
      seenIn: seenIn(3),
      healthy: false,
      label: "motor coupling, three dogs",
      meaning: "Worn dogs of the coupling rattle three times per motor turn.",
      source: "three-dog coupling, recalled",
      provenance: "from memory",
    },
  ];
}

function motorBearingLines(view: MotorView): LineDraft[] {
  const { profile, seenIn, pooled } = view;
  const rows = (profile.motor.bearings ?? []).flatMap(
    (name) => findBearing(name, profile.ownBearings) ?? [],
  );
  return bearingLines(bearingFamilies(rows, profile.motorBearingsKnown), {
    part: "motor-bearing",
    name: "motor bearing",
    clock: "motor",
    outerSideband: null,
    seenIn,
    strikes: !pooled,
  });
}

function viewOf(inputs: LineInputs): MotorView {
  const { profile, running, state, clocks, pooled } = inputs;
  const onDrumShaft = profile.drive === "direct" && running.drum;
  const motorHz = usualMotorHz(profile, state.phase, clocks);
  return {
    ...inputs,
    clock: onDrumShaft ? "drum" : "motor",
    seenIn: (multiple) => seenInAt(multiple * motorHz),
    some: (variants) => (pooled ? variants.slice(0, POOLED_VARIANTS) : variants),
  };
}

/** Lines of the wash motor; none while it stands, and only those without current in a run-down. */
export function motorLines(inputs: LineInputs): LineDraft[] {
  if (!inputs.running.motor) return [];
  const view = viewOf(inputs);
  const own = {
    universal: brushMotorLines,
    "induction-mains": inductionLines,
    "induction-inverter": inductionLines,
    "permanent-magnet-belt": magnetLines,
    "permanent-magnet-direct": magnetLines,
  }[view.profile.motor.kind];
  return [...rotationLines(view), ...motorBearingLines(view), ...own(view)];
}
