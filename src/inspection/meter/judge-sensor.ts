import { WasherNoiseError } from "../../foundation/errors.js";
import { formatOhm } from "./format-quantity.js";
import { toleranceOf } from "./judge-value.js";
import { compareToLimits } from "./measured.js";
import { METER_FACTS } from "./meter-facts.data.js";
import { METER_NOTES } from "./meter-notes.js";
import type { Judgement, Reading } from "./meter-result.js";
import { celsiusAt, ohmAt, parseSensorTable, type SensorTable } from "./sensor-table.js";
import { limitsAround, type Limits } from "./tolerance.js";

interface Temperature {
  readonly celsius: number;
  readonly within: number;
}

const refuse = (name: string, must: string, received: string | undefined): WasherNoiseError =>
  new WasherNoiseError("usage", `${name} ${must}, received ${received ?? "nothing"}.`, {
    name,
    received,
  });

function parseTemperature(text: string | undefined): Temperature {
  const form = /^([+-]?[\d.]+)(?:(?:±|\+-|\+\/-)([\d.]+))?$/;
  const match = form.exec(text?.replace(/\s|°?c/gi, "") ?? "");
  const celsius = Number(match?.[1]);
  const within = Number(match?.[2] ?? METER_FACTS.temperatureKelvin.value);
  if (match && Math.abs(celsius) <= 150 && within <= 30) return { celsius, within };
  throw refuse("--temperature", "must be the sensor's own in °C, such as 22 or 22+-1", text);
}

/** Resistance over the temperatures the sensor may have; null where the table does not reach. */
function expectedOhm(table: SensorTable, { celsius, within }: Temperature): Limits | null {
  const first = table[0]!.celsius;
  const last = table.at(-1)!.celsius;
  if (celsius < first || celsius > last) return null;
  const ends = [Math.max(first, celsius - within), Math.min(last, celsius + within)];
  const ohms = ends.map((end) => ohmAt(table, end)!);
  return { low: Math.min(...ohms), high: Math.max(...ohms) };
}

/**
 * A temperature sensor against its own table at the temperature told. The table's value at that
 * temperature ± tolerance must hold the reading; not knowing the temperature better than a degree or
 * two makes both limits soft, and a reading inside the soft part is too close to call.
 */
export function judgeSensor(reading: Reading): Judgement {
  const { table: text, temperature: told } = reading.request;
  if (text === undefined) {
    throw refuse("--table", "must hold the sensor's own table, such as 0=35.9k,30=9.7k", undefined);
  }
  const table = parseSensorTable(text);
  const temperature = parseTemperature(told);
  const expected = expectedOhm(table, temperature);
  const measured = reading.measured[0]!;
  if (!expected) {
    const ends = `${table[0]!.celsius} to ${table.at(-1)!.celsius} °C`;
    return {
      verdict: "cannot-tell",
      reason: `The table covers ${ends} and the sensor is at ${temperature.celsius} °C: nothing is guessed beyond it.`,
      accepts: null,
      notes: [],
    };
  }
  if (measured.value === Infinity) {
    return { verdict: "fail", reason: "The sensor is open.", accepts: null, notes: [] };
  }
  const tolerance = toleranceOf(reading);
  const accepts = limitsAround(ohmAt(table, temperature.celsius)!, tolerance);
  const coldest = limitsAround(expected.high, tolerance);
  const warmest = limitsAround(expected.low, tolerance);
  // Sure to be good: within the limits at whichever temperature it truly has.
  const sure = { low: coldest.low, high: warmest.high };
  const possible = { low: warmest.low, high: coldest.high };
  const inside = compareToLimits(measured, sure) === "pass";
  const outside = compareToLimits(measured, possible) === "fail";
  const verdict = inside ? "pass" : outside ? "fail" : "too-close";
  const at = `${formatOhm(ohmAt(table, temperature.celsius)!)} at ${temperature.celsius} °C ± ${temperature.within}`;
  const says = {
    pass: `The sensor follows its table (${at}).`,
    fail: `The sensor is off its table (${at}).`,
    "too-close": `Too near a limit for what is known of the temperature and the meter (${at}).`,
  }[verdict];
  return {
    verdict,
    reason: says,
    accepts,
    notes: [METER_NOTES.sensorReads(celsiusAt(table, measured.value))],
  };
}
