import type { Component } from "../words.js";
import type { LineDraft, LineInputs } from "./draft.js";

interface Hummer {
  readonly part: Component;
  readonly name: string;
}

/** Everything that hums at twice the mains in this phase; the first speaks for the line. */
function hummers({ profile, running, state }: LineInputs): Hummer[] {
  const mainsMotor = profile.motor.kind === "induction-mains" || profile.motor.kind === "universal";
  const pump = running.pump && profile.pumpDrivenBy === "own-motor";
  const recirculates = state.phase === "wash" && profile.components.includes("recirculation-pump");
  return [
    ...(running.valve ? [{ part: "inlet-valve", name: "inlet valve" } as const] : []),
    ...(mainsMotor && running.powered ? [{ part: "normal", name: "motor" } as const] : []),
    ...(pump ? [{ part: "drain-pump", name: "drain pump" } as const] : []),
    ...(recirculates ? [{ part: "recirculation-pump", name: "recirculation pump" } as const] : []),
  ];
}

/**
 * Hum at twice the mains, once for all that hum together: no frequency tells them apart.
 * With a drain pump alone its next even multiples are named too, by which a worn one is known.
 */
export function mainsLines(inputs: LineInputs): LineDraft[] {
  const sources = hummers(inputs);
  const first = sources[0];
  if (first === undefined) return [];
  const names = sources.map(({ name }) => name).join(", ");
  const hum: LineDraft = {
    id: "mains/hum",
    part: first.part,
    kind: "mains-hum",
    clock: "mains",
    multiple: 2,
    tolerance: 0.002,
    seenIn: "spectrum",
    healthy: true,
    sidebandMultiple: null,
    label: `mains hum (${names})`,
    meaning:
      "Magnetic pull at twice the mains: normal, and the same for all that run on the mains.",
    source: "magnetic pull follows the square of the current: twice the mains",
    provenance: "computed",
  };
  if (first.part !== "drain-pump" || inputs.state.phase !== "drain") return [hum];
  return [
    hum,
    ...[4, 6].map((multiple) => ({
      ...hum,
      id: `drain-pump/hum/${multiple}`,
      multiple,
      label: `drain pump, ${multiple} x mains`,
      meaning: "Higher multiples grow when the pump's bush is worn and its rotor rattles.",
    })),
  ];
}
