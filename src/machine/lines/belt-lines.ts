import { beltSpanHz } from "../belt-span.js";
import { spanSpread } from "../clock-rates.js";
import { spanWindow } from "../windows.js";
import type { BeltProfile } from "../profile.js";
import type { LineDraft, LineInputs } from "./draft.js";

const VARIANT = { horizontal: "front", vertical: "top" } as const;

/** Belt turns per turn of the clock it is told by: the drum's when it turns, else the motor's. */
function beltRate(
  belt: BeltProfile,
  { profile, running }: LineInputs,
): Pick<LineDraft, "clock" | "multiple" | "tolerance"> {
  const { multiple, tolerance } = spanWindow(belt.beltToDrum);
  if (running.drum) return { clock: "drum", multiple, tolerance };
  const input = profile.motorToAgitatorInput ?? profile.motorToDrum;
  return {
    clock: "motor",
    multiple: multiple / input.typical,
    tolerance: tolerance + spanSpread(input),
  };
}

function spanLine(belt: BeltProfile): LineDraft {
  const { spanMm, tensionNewton, massKgPerM } = belt;
  // Tension and length differ from machine to machine; mass goes with the belt fitted.
  const low = beltSpanHz(spanMm.high, tensionNewton.low, massKgPerM.typical);
  const high = beltSpanHz(spanMm.low, tensionNewton.high, massKgPerM.typical);
  return {
    id: "drive-belt/span",
    part: "drive-belt",
    kind: "belt-span",
    clock: "fixed",
    multiple: (low + high) / 2,
    tolerance: (high - low) / (high + low),
    seenIn: "spectrum",
    healthy: true,
    sidebandMultiple: null,
    label: "belt, free span flapping",
    meaning:
      "The free span sings like a string when a shaft rate meets it; slack belts flap lower.",
    source: "string formula with tension, length and mass of this kind of belt",
    provenance: "computed",
  };
}

/** Lines of the belt; none without one or while it stands. */
export function beltLines(inputs: LineInputs): LineDraft[] {
  const { profile, running } = inputs;
  if (profile.belt === null || !running.motor) return [];
  const rate = beltRate(profile.belt, inputs);
  const key = `${VARIANT[profile.axis]}${rate.clock === "motor" ? "-wash" : ""}`;
  const once: LineDraft = {
    id: `drive-belt/pass/${key}`,
    part: "drive-belt",
    kind: "belt-pass",
    ...rate,
    seenIn: "envelope",
    healthy: false,
    sidebandMultiple: null,
    label: "belt, once per belt turn",
    meaning: "A damaged place of the belt runs over a pulley once per belt turn.",
    source: "belt rate pi D f / L; range from the pulleys and belts in use",
    provenance: "computed",
  };
  const twice: LineDraft = {
    ...once,
    id: `drive-belt/double-pass/${key}`,
    multiple: 2 * rate.multiple,
    label: "belt, twice per belt turn",
    meaning: "The same place meets both pulleys; often the stronger of the two.",
    source: "twice the belt rate: vibration training texts name it as often the highest peak",
  };
  return [once, twice, spanLine(profile.belt)];
}
