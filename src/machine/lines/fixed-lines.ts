import { rpmToHz } from "../../foundation/units.js";
import { spanWindow } from "../windows.js";
import type { LineDraft, LineInputs } from "./draft.js";

/** Frequencies that stand still while the speed moves: the hung tub's bounce, the inverter's carrier. */
export function fixedLines({ profile, running }: LineInputs): LineDraft[] {
  const { suspensionRpm, carrierHz } = profile;
  const bounce: LineDraft = {
    id: `suspension/bounce/${profile.axis === "horizontal" ? "front" : "top"}`,
    part: "suspension",
    kind: "suspension",
    clock: "fixed",
    ...spanWindow(suspensionRpm, rpmToHz(1)),
    seenIn: "envelope",
    healthy: true,
    sidebandMultiple: null,
    label: "hung tub, bounce",
    meaning: "The tub swings widest as the drum passes this speed; worn dampers let it bang here.",
    source: suspensionRpm.source,
    provenance: suspensionRpm.provenance,
  };
  const carrier: LineDraft | null =
    carrierHz === null
      ? null
      : {
          ...bounce,
          id: "controls/carrier",
          part: "controls",
          kind: "pwm-carrier",
          ...spanWindow(carrierHz),
          seenIn: "spectrum",
          label: "inverter carrier",
          meaning:
            "A thin tone that stays put while everything else speeds up; lost in voice messages.",
          source: carrierHz.source,
          provenance: carrierHz.provenance,
        };
  return [
    ...(running.drum ? [bounce] : []),
    ...(carrier !== null && running.powered ? [carrier] : []),
  ];
}
