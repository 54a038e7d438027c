import { WasherNoiseError } from "../../foundation/errors.js";
import { measuredValue } from "./measured.js";
import { parseAccuracy } from "./meter-accuracy.js";
import { meterPoint } from "./meter-point.js";
import { meterRequestSchema, type MeterRequest } from "./meter-reading.js";
import type { ReadingKind } from "./meter-points.data.js";
import type { Reading } from "./meter-result.js";
import { parseFinite, parseQuantity, type ElectricalUnit, type Quantity } from "./quantity.js";

/** Options, by field, that make sense for some kinds only. */
const FIELD_KINDS = {
  printed: ["resistance", "windings", "capacitor"],
  tolerance: ["resistance", "windings", "capacitor", "sensor"],
  leads: ["resistance", "closed", "windings", "sensor"],
  temperature: ["sensor"],
  table: ["sensor"],
} as const satisfies Partial<Record<keyof MeterRequest, readonly ReadingKind[]>>;

const usage = (message: string, facts: Record<string, unknown>): WasherNoiseError =>
  new WasherNoiseError("usage", message, facts);

function refuseMisplaced(request: MeterRequest, kind: ReadingKind): void {
  for (const [field, kinds] of Object.entries(FIELD_KINDS)) {
    if (request[field as keyof typeof FIELD_KINDS] === undefined) continue;
    if ((kinds as readonly ReadingKind[]).includes(kind)) continue;
    throw usage(`--${field} belongs to ${kinds.join(", ")}; this reading is of kind ${kind}.`, {
      field,
      kind,
    });
  }
}

function readValue(text: string, unit: ElectricalUnit, resolution: number | null): Quantity {
  const quantity = parseQuantity("--reading", text);
  if (quantity.unit !== unit || (unit === "farad" && quantity.value <= 0)) {
    const form = unit === "farad" ? "a capacitance with its unit, such as 12.1uF" : "in ohm";
    throw usage(`--reading must be ${form}, received "${text}".`, { received: text });
  }
  return resolution === null || quantity.value === Infinity
    ? quantity
    : { ...quantity, resolution };
}

function readResolution(text: string | undefined, unit: ElectricalUnit): number | null {
  if (text === undefined) return null;
  const { value } = parseFinite("--resolution", text, unit);
  if (value > 0) return value;
  throw usage(`--resolution must be more than 0, received "${text}".`, { received: text });
}

function checkedShape(raw: MeterRequest): MeterRequest {
  const result = meterRequestSchema.safeParse(raw);
  if (result.success) return result.data;
  const { path, message } = result.error.issues[0]!;
  throw usage(`meter reading, ${path.join(".") || "request"}: ${message}.`, { path });
}

/**
 * Checks and parses what was told of a reading.
 *
 * @throws WasherNoiseError `usage`, naming the option and the remedy.
 */
export function readRequest(raw: MeterRequest): Reading {
  const request = checkedShape(raw);
  const point = meterPoint(request.part);
  const kind = request.kind ?? point.kind;
  refuseMisplaced(request, kind);
  const wanted = kind === "windings" ? 3 : 1;
  if (request.readings.length !== wanted) {
    throw usage(
      `--reading must hold ${wanted === 3 ? "the three pairs" : "one value"} for ${kind}, ` +
        `received ${request.readings.length}.`,
      { kind, received: request.readings.length },
    );
  }
  const unit = kind === "capacitor" ? "farad" : "ohm";
  const resolution = readResolution(request.resolution, unit);
  const readings = request.readings.map((text) => readValue(text, unit, resolution));
  const leads = request.leads === undefined ? null : parseFinite("--leads", request.leads, "ohm");
  const accuracy = parseAccuracy(request.accuracy, unit);
  const measured = readings.map((reading) => measuredValue(reading, leads, accuracy));
  return { request, point, kind, unit, readings, leads, accuracy, measured };
}
