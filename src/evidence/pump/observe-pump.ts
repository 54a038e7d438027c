import type { ListeningContext } from "../context.js";
import type { ImpactEvent, Measurement } from "../evidence.js";
import { eventTrust } from "../event/trust.js";
import { findImpacts } from "../event/impacts.js";
import { measured, missing } from "../measurement.js";
import { jetHiss } from "./jet-hiss.js";
import { mainsPresence, turningShare } from "./mains-presence.js";
import { pumpKnock } from "./pump-knock.js";
import { slowModulation } from "./slow-modulation.js";

export type PumpFeatureId = "pump-knock" | "pump-crackle" | "jet-hiss";

export type PumpFeatures = Readonly<Record<PumpFeatureId, Measurement>>;

/**
 * Random bursts of 1-7.5 kHz noise 2-20 times a second, as of a pump that draws air: modulation index of
 * the random part beyond plain noise. A drum that turns makes such modulation as well, so trust falls
 * with the share of the clip in which it does, and without mains hum.
 */
function pumpCrackle(context: ListeningContext): Measurement {
  if (context.recording.bandHz[1] < 2500) return missing("band");
  if (context.toldPhase === "coast" || context.toldPhase === "hand-spin") return missing("phase");
  const modulation = slowModulation(context);
  if (!modulation) return missing("short");
  const place = (0.4 + 0.6 * mainsPresence(context)) * (1 - 0.7 * turningShare(context));
  return measured(modulation.random, eventTrust(context) * place);
}

/** Sounds of pump and valve apart from the mains comb itself. */
export function observePump(
  context: ListeningContext,
  impacts: readonly ImpactEvent[] = findImpacts(context),
): PumpFeatures {
  return {
    "pump-knock": pumpKnock(context, impacts),
    "pump-crackle": pumpCrackle(context),
    "jet-hiss": jetHiss(context),
  };
}
