import { z } from "zod";
import { READING_KINDS } from "./meter-points.data.js";

const text = z.string().trim().min(1).max(200);

/**
 * What the technician tells of one reading. Values stand as they were typed, so that the digits shown,
 * and with them the meter's resolution, are kept.
 */
export const meterRequestSchema = z.strictObject({
  /** Id of a place to measure, such as `drain-pump`. */
  part: text,
  /** Default: the usual one of the part. */
  kind: z.enum(READING_KINDS).optional(),
  /** One value, or three for windings. */
  readings: z.array(text).min(1).max(3),
  /** The value, or the range, that a sheet or label prints. */
  printed: text.optional(),
  /** Where it is printed: the machine's data sheet, or the fitted part itself. */
  printedOn: z.enum(["machine", "part"]).optional(),
  /** Default: ±10 %. */
  tolerance: text.optional(),
  /** The meter's accuracy, such as `0.8%+3`. */
  accuracy: text.optional(),
  /** Worth of the last digit. Default: as typed in the reading. */
  resolution: text.optional(),
  /** What the test leads read, tips together. */
  leads: text.optional(),
  /** Whether the fitted part is the one the machine left the works with. */
  fitted: z.enum(["original", "other-make"]).optional(),
  /** Of the part, in °C, for sensors: `22` or `22+-1`. */
  temperature: text.optional(),
  /** A sensor's own table, such as `0=35.9k,30=9.7k,60=3.2k`. */
  table: z.string().max(20_000).optional(),
  /** Age of the part in years. */
  ageYears: z.number().min(0).max(60).optional(),
});

export type MeterRequest = z.infer<typeof meterRequestSchema>;

/** A reading as a job file keeps it: what was told, and what came of it. */
export const meterReadingSchema = meterRequestSchema.extend({
  /** Date and time with its zone. */
  at: z.iso.datetime({
    offset: true,
    error: "must be a date and time such as 2026-03-01T09:30:00Z",
  }),
  verdict: z.enum(["pass", "fail", "too-close", "cannot-tell"]),
  /** One line for the record. */
  text: z.string().max(1000),
});

export type MeterReading = z.infer<typeof meterReadingSchema>;
