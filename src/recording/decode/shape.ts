import type { Hertz } from "../../foundation/units.js";
import { damaged } from "./refusal.js";

/** No phone or recorder in use writes more. */
export const MOST_CHANNELS = 64;
const LOWEST_RATE_HZ = 4000;
const HIGHEST_RATE_HZ = 384_000;

/** Throws `recording-damaged` unless the channel count and the sample rate are believable. */
export function checkShape(name: string, channelCount: number, sampleRateHz: Hertz): void {
  if (!(channelCount >= 1 && channelCount <= MOST_CHANNELS)) {
    throw damaged(
      name,
      `the header claims ${channelCount} channels, 1 to ${MOST_CHANNELS} are possible`,
      { channelCount },
    );
  }
  if (!(sampleRateHz >= LOWEST_RATE_HZ && sampleRateHz <= HIGHEST_RATE_HZ)) {
    throw damaged(
      name,
      `the header claims ${sampleRateHz} samples a second, ${LOWEST_RATE_HZ} to ${HIGHEST_RATE_HZ} are possible`,
      { sampleRateHz },
    );
  }
}
