import type { ListeningContext } from "../context.js";
import type { Measurement } from "../evidence.js";
import type { FeatureId } from "../features.data.js";
import { observeBalance } from "./balance.js";
import { contactLevels } from "./contact-levels.js";
import { observeImpulses } from "./impulses.js";
import { observeMachine } from "./machine-likeness.js";
import { observeRoughness } from "./roughness.js";
import { shortFrames } from "./sound-frames.js";
import { observeSqueal } from "./squeal.js";
import { observeTones } from "./tones.js";

/**
 * What the sound is like: tonality, roughness, impulses, balance, squeals, and whether it
 * is a machine at all.
 *
 * Every value is a ratio within the clip, so the recording's gain does not matter.
 */
export function observeCharacter(
  context: ListeningContext,
): Partial<Record<FeatureId, Measurement>> {
  const short = shortFrames(context);
  const levels = contactLevels(context);
  const roughness = observeRoughness(context, levels);
  const heard = {
    ...observeTones(context),
    ...roughness,
    ...observeImpulses(context, levels),
    ...observeBalance(context, short, roughness),
    ...observeSqueal(context, short),
  };
  return { ...heard, "machine-likeness": observeMachine(context, heard) };
}
