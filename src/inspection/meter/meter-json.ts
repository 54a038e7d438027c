import type { Measured } from "./measured.js";
import { METER_CAUTIONS } from "./meter-cautions.data.js";
import { METER_FACTS } from "./meter-facts.data.js";
import type { ReadingKind } from "./meter-points.data.js";
import type { MeterResult } from "./meter-result.js";
import type { Limits } from "./tolerance.js";

export const METER_SCHEMA = "washer-noise/meter@1";

type FactName = keyof typeof METER_FACTS;

/** Figures each kind of reading is judged by. */
const KIND_FACTS: Readonly<Record<ReadingKind, readonly FactName[]>> = {
  resistance: ["tolerancePercent", "otherMakeFactor", "edgeShare", "oldFromYears"],
  capacitor: ["capacitorPercent", "edgeShare", "oldFromYears"],
  windings: ["windingsPercent", "tolerancePercent"],
  closed: ["closedBelowOhm", "badContactOhm"],
  open: ["openAboveOhm"],
  earth: ["openAboveOhm"],
  sensor: ["tolerancePercent", "temperatureKelvin"],
};

/** JSON has no infinity: an end that is open is null. */
const finite = (value: number): number | null => (Number.isFinite(value) ? tidy(value) : null);

/** Sheds what binary arithmetic leaves behind (5445.799999999999), at nine figures. */
const tidy = (value: number): number => Number(value.toPrecision(9));

const limits = ({ low, high }: Limits) => ({ low: finite(low), high: finite(high) });

const measured = (one: Measured) => ({
  open: one.value === Infinity,
  value: finite(one.value),
  ...limits(one),
  standardUncertainty: finite(one.standardUncertainty),
});

/** The object that `meter --json` prints. Values in ohm or farad; null: open, or no limit on that side. */
export function meterJson(result: MeterResult) {
  const { reading } = result;
  const { point, request, leads, accuracy } = reading;
  return {
    schema: METER_SCHEMA,
    part: { id: point.id, label: point.label, component: point.component },
    kind: reading.kind,
    verdict: result.verdict,
    text: result.reason,
    unit: reading.unit,
    readings: reading.readings.map((one, i) => ({
      told: one.text,
      resolution: finite(one.resolution),
      ...measured(reading.measured[i]!),
    })),
    leads: leads && { told: leads.text, value: leads.value },
    printed:
      request.printed === undefined ? null : { told: request.printed, value: result.printed },
    fitted: request.fitted ?? null,
    accepts: result.accepts && limits(result.accepts),
    accuracy,
    notes: result.notes,
    asks: result.asks,
    prepare: point.prepare,
    passLimits: point.passLimits,
    cautions: METER_CAUTIONS.map(({ text }) => text),
    facts: KIND_FACTS[reading.kind].map((name) => ({ name, ...METER_FACTS[name] })),
  };
}
