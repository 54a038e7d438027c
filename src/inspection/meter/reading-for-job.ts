import type { MeterReading } from "./meter-reading.js";
import type { MeterResult } from "./meter-result.js";

/** What a job file keeps of a judged reading; `at` is the time it was taken, with its zone. */
export const readingForJob = (result: MeterResult, at: string): MeterReading => ({
  at,
  ...result.reading.request,
  verdict: result.verdict,
  text: result.reason,
});
