import type { LineFinding, Measurement } from "../evidence.js";
import type { FeatureId } from "../features.data.js";
import { measured } from "../measurement.js";

type Row = readonly [FeatureId, (finding: LineFinding) => boolean];

const isBearing = (finding: LineFinding): boolean => finding.line.kind.startsWith("bearing-");

/** Which findings each row of the catalogue's group "lines" is read from. */
const ROWS: readonly Row[] = [
  ["line-belt", ({ line }) => line.kind === "belt-pass"],
  ["line-drum-bearing", (one) => isBearing(one) && one.line.part === "drum-bearing"],
  ["line-motor-bearing", (one) => isBearing(one) && one.line.part === "motor-bearing"],
  [
    "line-motor-shaft",
    ({ line }) => line.kind === "shaft" && line.part !== "motor-coupling" && line.clock === "motor",
  ],
  ["line-commutator", ({ line }) => line.kind === "commutator" || line.kind === "armature-slot"],
  ["line-pole-pass", ({ line }) => line.kind === "pole-pass" || line.kind === "torque-ripple"],
  ["line-gear-mesh", ({ line }) => line.kind === "gear-mesh" || line.kind === "planet-pass"],
  ["line-coupling", ({ line }) => line.part === "motor-coupling"],
];

/** A finding that another known line explains as well counts for a quarter. */
const CONFOUNDED_QUALITY = 0.25;
const SMALLEST_P = 1e-9;

/** The most significant finding of each row, with the figures its sentence needs. */
export function partRows(
  findings: readonly LineFinding[],
): Partial<Record<FeatureId, Measurement>> {
  const rows: Partial<Record<FeatureId, Measurement>> = {};
  for (const [id, belongs] of ROWS) {
    const best = findings
      .filter(belongs)
      .reduce<LineFinding | null>(
        (a, b) => (a === null || b.pAdjusted < a.pAdjusted ? b : a),
        null,
      );
    if (best === null) continue;
    rows[id] = measured(
      Math.max(best.pAdjusted, SMALLEST_P),
      best.confounded ? CONFOUNDED_QUALITY : 1,
      {
        hz: best.heardHz,
        label: best.line.label,
        ...(best.heardOrder === null
          ? {}
          : { perTurn: best.heardOrder, rpm: (60 * best.heardHz) / best.heardOrder }),
        ...(best.line.clock === "motor" ? { perMotorTurn: best.line.multiple } : {}),
      },
    );
  }
  return rows;
}
