import type { ListeningContext } from "../context.js";

/**
 * How far sharp events of this recording can be trusted, 0 to 1. A phone that turns its gain down at
 * a blow, clips it, or takes it for noise to be removed changes its height but rarely its moment.
 */
export function eventTrust(context: ListeningContext): number {
  const { quality } = context.recording;
  let trust = 1;
  if (quality.gainPumping) trust *= 0.8;
  if (quality.clippedShare > 0.001) trust *= 0.6;
  if (quality.noiseSuppressed) trust *= 0.6;
  if (quality.voiceCodec) trust *= 0.7;
  return trust;
}
