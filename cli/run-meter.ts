import {
  addReadingToJob,
  judgeReading,
  loadSensorTable,
  meterJson,
  meterText,
  type MeterRequest,
} from "../src/index.js";
import type { MeterOptions } from "./meter-options.js";

/** Leaves out what was not told, so that only told fields are stored and checked. */
function requestOf(options: MeterOptions, table: string | undefined): MeterRequest {
  const { part, reading, kind, printed, printedOn, tolerance } = options;
  const { accuracy, resolution, leads, fitted, temperature, age } = options;
  const told = Object.entries({
    part,
    kind,
    readings: reading,
    printed,
    printedOn,
    tolerance,
    accuracy,
    resolution,
    leads,
    fitted,
    temperature,
    table,
    ageYears: age,
  }).filter(([, value]) => value !== undefined);
  return Object.fromEntries(told) as unknown as MeterRequest;
}

/** Runs `meter` and returns what goes to stdout; adds the reading to the job file when one is named. */
export async function runMeter(
  options: MeterOptions,
  screen: { readonly color: boolean; readonly width: number },
): Promise<string> {
  const table = options.table === undefined ? undefined : await loadSensorTable(options.table);
  const request = requestOf(options, table);
  const result = judgeReading(request);
  if (options.job !== undefined) await addReadingToJob(options.job, result, new Date());
  if (options.json) return `${JSON.stringify(meterJson(result))}\n`;
  return meterText(result, screen);
}
