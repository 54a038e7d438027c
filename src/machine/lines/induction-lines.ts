import { inductionSlip } from "../induction-motor.js";
import type { LineDraft, MotorView } from "./draft.js";

/** Slip of a loaded washer motor: 1725 of 1800 rpm. */
const USUAL_SLIP = 0.042;
/** An inverter motor runs with less slip at speed; 0-6 % is covered by the window. */
const INVERTER_SLIP = 0.03;

const COMMON = {
  part: "normal",
  healthy: true,
  provenance: "computed",
} as const;

/** Rotor bars past the stator, with twice the supply frequency to each side; only with a known count. */
function barLines({ profile, clock, seenIn, some }: MotorView, slip: number): LineDraft[] {
  const poles = profile.motor.poles.values[0]!;
  return some(profile.motor.bars?.values ?? []).map((count) => ({
    ...COMMON,
    id: `motor/rotor-bars/${count}`,
    kind: "rotor-slot",
    clock,
    multiple: count,
    tolerance: 0.003,
    seenIn: seenIn(count),
    sidebandMultiple: poles / (1 - slip),
    label: `rotor, ${count} bars`,
    meaning: "Whine of a sound induction motor, with companions at twice the supply to each side.",
    source: "bars x running speed, sidebands at twice the supply: textbook",
  }));
}

function polePassLine({ profile, state }: MotorView): LineDraft[] {
  const { motorRpm, lineHz } = state;
  if (profile.motor.kind !== "induction-mains" || motorRpm === null || lineHz === null) return [];
  const slip = inductionSlip(motorRpm, lineHz, profile.motor.poles.values[0]!);
  if (slip <= 0 || slip > 0.3) return [];
  return [
    {
      ...COMMON,
      id: "motor/pole-pass",
      kind: "pole-pass",
      clock: "mains",
      multiple: 2 * slip,
      // A small difference of two speeds: 0.3 % of speed is already 7 % of it at 4 % slip.
      tolerance: 0.1,
      seenIn: "envelope",
      sidebandMultiple: null,
      label: "motor, slip beat",
      meaning:
        "Hum that swells a few times a second as the rotor slips past the poles; more under load.",
      source: "2 s f_L: textbook",
    },
  ];
}

/** Lines that an inverter's own supply makes: twice and six times its frequency. */
function inverterLines({ profile, clock, seenIn }: MotorView): LineDraft[] {
  const poles = profile.motor.poles.values[0]!;
  return [2, 6].map((factor) => {
    const multiple = ((poles / 2) * factor) / (1 - INVERTER_SLIP);
    return {
      ...COMMON,
      id: `motor/supply-times-${factor}`,
      kind: "torque-ripple",
      clock,
      multiple,
      tolerance: INVERTER_SLIP + 0.003,
      seenIn: seenIn(multiple),
      sidebandMultiple: null,
      label: `motor, ${factor} x inverter frequency`,
      meaning: "Whine of a sound inverter motor, a little above a whole multiple of its speed.",
      source: "f_e = p f_m / (1 - s); slip 0-6 %",
    } satisfies LineDraft;
  });
}

/** Induction motors: silent without current. */
export function inductionLines(view: MotorView): LineDraft[] {
  if (!view.running.powered) return [];
  return view.profile.motor.kind === "induction-mains"
    ? [...barLines(view, USUAL_SLIP), ...polePassLine(view)]
    : [...barLines(view, INVERTER_SLIP), ...inverterLines(view)];
}
