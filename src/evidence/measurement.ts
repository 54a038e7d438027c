import { clamp } from "../foundation/statistics.js";
import type { Measurement, MissingReason } from "./evidence.js";

/** A number that the clip cannot show. */
export const missing = (reason: MissingReason): Measurement => ({
  value: null,
  quality: 0,
  missing: reason,
});

/** An observed number; one that came out as NaN or infinite counts as missing ("short"). */
export function measured(
  value: number,
  quality: number,
  detail?: Readonly<Record<string, number | string>>,
): Measurement {
  if (!Number.isFinite(value)) return missing("short");
  const trust = clamp(quality, 0, 1);
  return detail ? { value, quality: trust, detail } : { value, quality: trust };
}
