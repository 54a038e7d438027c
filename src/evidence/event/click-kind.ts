import { median } from "../../foundation/statistics.js";
import type { ListeningContext } from "../context.js";
import type { ImpactEvent, Measurement } from "../evidence.js";
import { measured, missing } from "../measurement.js";
import { clicksAlike } from "./clicks-alike.js";
import { isClick } from "./clicks.js";
import { firstOfEach } from "./even-beat.js";
import { eventTrust } from "./trust.js";

/** Fewer clicks have no kind of their own. */
const FEWEST = 5;

type ClickKindId = "click-rate" | "click-pitch";

/**
 * How many clicks of one kind there are a second, and how high they sound (Hz, median of their centres;
 * missing where there are too few). A contact or a coin clicks high, a lifter or a stone knocks lower.
 */
export function clickKind(
  context: ListeningContext,
  impacts: readonly ImpactEvent[],
): Record<ClickKindId, Measurement> {
  if (context.recording.bandHz[1] < 4000) {
    const gone = missing("band");
    return { "click-rate": gone, "click-pitch": gone };
  }
  const clicks = firstOfEach(clicksAlike(impacts.filter(isClick)));
  const trust = eventTrust(context);
  const rate = clicks.length / context.recording.durationSeconds;
  return {
    "click-rate": measured(rate, trust, { clicks: clicks.length }),
    "click-pitch":
      clicks.length < FEWEST
        ? missing("no-events")
        : measured(median(clicks.map(({ centreHz }) => centreHz)), trust, {
            clicks: clicks.length,
          }),
  };
}
