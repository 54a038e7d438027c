import type { LineDraft, LineInputs } from "./draft.js";

const SYNCHRONOUS =
  "two-pole synchronous pump: turns at the mains frequency (US 2004/0078902, background: drain pumps " +
  "are induction or synchronous motors off the mains)";

/**
 * Lines of the drain pump. A pump of its own runs on the mains and its vanes always land on a mains
 * multiple, so they cannot be told from hum by frequency; one on the wash motor's shaft follows it.
 */
export function pumpLines({ profile, running, state, pooled }: LineInputs): LineDraft[] {
  const onMotor = profile.pumpDrivenBy === "wash-motor";
  if (onMotor ? !running.powered : !running.pump) return [];
  const clock = onMotor ? "motor" : "mains";
  const key = onMotor ? "drain-pump/on-motor" : "drain-pump";
  const rotation: LineDraft = {
    id: `${key}/rotation`,
    part: "drain-pump",
    kind: "pump-rotation",
    clock,
    multiple: 1,
    tolerance: 0.003,
    seenIn: "envelope",
    healthy: true,
    sidebandMultiple: null,
    label: onMotor ? "drain pump on the motor shaft, rotation" : "drain pump, rotation",
    meaning: "The impeller turns at this rate; a wobbling one makes its comb louder.",
    source: onMotor ? "impeller on the motor shaft, recalled" : SYNCHRONOUS,
    provenance: onMotor ? "from memory" : "published",
  };
  const all = state.phase === "drain" && !pooled;
  const vanes = all ? profile.pumpVanes.values : profile.pumpVanes.values.slice(0, 1);
  return [
    rotation,
    ...vanes.map((count): LineDraft => ({
      ...rotation,
      id: `${key}/vanes/${count}`,
      kind: "pump-vane",
      multiple: count,
      seenIn: "spectrum",
      label: `drain pump, ${count} vanes`,
      meaning: "Vanes push water past the outlet; irregular when something is caught in them.",
      source: `vanes times the pump's rate; ${profile.pumpVanes.source}`,
      provenance: profile.pumpVanes.provenance,
    })),
  ];
}
