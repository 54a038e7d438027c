import { WasherNoiseError } from "../../foundation/errors.js";
import { METER_FACTS } from "./meter-facts.data.js";
import type { ElectricalUnit, Quantity } from "./quantity.js";

/** What the meter's own data sheet says of it: ±(percent of reading + counts of the last digit). */
export interface MeterAccuracy {
  readonly percent: number;
  readonly counts: number;
  /** True when it was not told and a usual hand-held meter is assumed. */
  readonly assumed: boolean;
}

const FORM = /^([\d.]+)%?(?:of|rdg|reading)*\+([\d.]+)(?:counts?|dgts?|digits?|d)?$/i;

/** `0.8%+3`, `±(0.8% + 3)`, `0.8% + 3 counts`. Not told: a usual meter, marked as assumed. */
export function parseAccuracy(text: string | undefined, unit: ElectricalUnit): MeterAccuracy {
  if (text === undefined) {
    return unit === "ohm"
      ? {
          percent: METER_FACTS.ohmPercent.value,
          counts: METER_FACTS.ohmCounts.value,
          assumed: true,
        }
      : {
          percent: METER_FACTS.faradPercent.value,
          counts: METER_FACTS.faradCounts.value,
          assumed: true,
        };
  }
  const short = text.replace(/[\s()±]/g, "").replace(/^\+(?:-|\/-)/, "");
  const both = FORM.exec(short) ?? /^([\d.]+)%()$/.exec(short);
  const percent = Number(both?.[1]);
  const counts = Number(both?.[2] || 0);
  if (both && percent >= 0 && percent <= 30 && counts >= 0 && counts <= 1000) {
    return { percent, counts, assumed: false };
  }
  throw new WasherNoiseError(
    "usage",
    `--accuracy must be percent of reading plus counts as the meter's data sheet prints them, ` +
      `such as 0.8%+3, received "${text}".`,
    { name: "--accuracy", received: text },
  );
}

/** Half-width of what a reading can mean: percent·|reading|/100 + counts·resolution. */
export const readingError = (reading: Quantity, accuracy: MeterAccuracy): number =>
  (accuracy.percent / 100) * Math.abs(reading.value) + accuracy.counts * reading.resolution;
