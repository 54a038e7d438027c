import { WasherNoiseError } from "../../foundation/errors.js";
import { METER_POINTS, type MeterPoint } from "./meter-points.data.js";

/**
 * A place to measure by its id, or by the id of the component it belongs to.
 *
 * @throws WasherNoiseError `usage`, with the valid ids.
 */
export function meterPoint(id: string): MeterPoint {
  const rows: readonly MeterPoint[] = METER_POINTS;
  const row = rows.find((r) => r.id === id) ?? rows.find((r) => r.component === id);
  if (row) return row;
  const ids = rows.map((r) => r.id);
  throw new WasherNoiseError(
    "usage",
    `--part must be one of ${ids.join(", ")}, received "${id}".`,
    { name: "--part", received: id, allowed: ids },
  );
}
