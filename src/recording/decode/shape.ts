import type { Hertz } from "../../foundation/units.js";
import type { DecodeLimits } from "./decode-options.js";
import { damaged } from "./refusal.js";

/**
 * Throws `recording-damaged` unless the channel count and the sample rate are believable, before any
 * memory is taken for them.
 */
export function checkShape(
  name: string,
  { channelCount, sampleRateHz }: { readonly channelCount: number; readonly sampleRateHz: Hertz },
  limits: Pick<DecodeLimits, "maxChannels" | "minSampleRateHz" | "maxSampleRateHz">,
): void {
  const { maxChannels, minSampleRateHz, maxSampleRateHz } = limits;
  if (!(channelCount >= 1 && channelCount <= maxChannels)) {
    throw damaged(
      name,
      `the header claims ${channelCount} channels, 1 to ${maxChannels} (maxChannels) are accepted`,
      { channelCount, maxChannels },
    );
  }
  if (!(sampleRateHz >= minSampleRateHz && sampleRateHz <= maxSampleRateHz)) {
    throw damaged(
      name,
      `the header claims ${sampleRateHz} samples a second, ${minSampleRateHz} (minSampleRateHz) to ${maxSampleRateHz} (maxSampleRateHz) are accepted`,
      { sampleRateHz, minSampleRateHz, maxSampleRateHz },
    );
  }
}
