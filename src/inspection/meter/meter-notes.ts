import { formatOhm } from "./format-quantity.js";
import type { MeterNote } from "./meter-result.js";

const note = (code: string, text: string): MeterNote => ({ code, text });

/** The sentences that go with a judged reading, made from facts. */
export const METER_NOTES = {
  accuracyAssumed: (percent: number, counts: number) =>
    note(
      "accuracy-assumed",
      `The meter's accuracy was not told: ±(${percent} % + ${counts} counts) is assumed; --accuracy "0.8%+3" from its data sheet settles it.`,
    ),
  leadsUnknown: (ohm: number) =>
    note(
      "leads-unknown",
      `The leads were not measured and may be worth up to ${ohm} Ω of this reading: hold the tips together and tell --leads.`,
    ),
  coarse: note(
    "coarse",
    "The meter's error is wide for these limits: type all digits as the meter shows them, and use the smallest range that holds the value.",
  ),
  edge: (isOld: boolean | null) => {
    const text =
      isOld === true
        ? "At the very edge of the limit, in an old part: replace it."
        : isOld === false
          ? "At the very edge of the limit: measure again, cold; it may be what it was when new."
          : "At the very edge of the limit: in an old part that means replace; tell --age.";
    return note("edge", text);
  },
  warmCoil: (kelvin: number) =>
    note(
      "warm-coil",
      `A copper coil reads 0.4 % more for each degree: about ${kelvin} °C above the sheet's temperature would explain the excess. Let it cool and measure again.`,
    ),
  otherMake: note(
    "other-make",
    "The fitted part is of another make and may have another rating: the value must be the one of that part, from its label or its own sheet.",
  ),
  notThePart: note(
    "value-of-another-part",
    "The value comes from the machine's sheet, the fitted part is of another make: the two cannot be compared.",
  ),
  earthTest: note(
    "earth-test",
    "An ordinary meter finds a dead short only. The insulation test at high voltage is for licensed or trained people under local rules.",
  ),
  openIsFinite: note(
    "parallel-path",
    "A reading where there should be none is often another path: unplug both sides, keep the fingers off the tips, measure again.",
  ),
  sensorReads: (celsius: number | null) =>
    note(
      "sensor-temperature",
      celsius === null
        ? "The reading lies outside the table: no temperature belongs to it."
        : `By its table the sensor thinks it is at ${celsius.toFixed(1)} °C.`,
    ),
  windingTowards: (ohm: number) =>
    note("windings-mean", `The three windings read ${formatOhm(ohm)} on average.`),
} as const;

/** What the technician must still say before the verdict stands. */
export const METER_ASKS = {
  fitted: (part: string) => {
    const seen = part === "shift-actuator" ? " (about 3700 Ω was seen in place of 5700 Ω)" : "";
    return note(
      "fitted",
      `Is the fitted part the original? A replacement of another make may have another rating${seen}, and then its own value counts: tell --fitted original or --fitted other-make.`,
    );
  },
  ownValue: note(
    "own-value",
    "Which value does the fitted part carry? Read its label or its own sheet, then tell --printed with --printed-on part.",
  ),
} as const;
