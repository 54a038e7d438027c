import type { ListeningContext } from "../context.js";
import type { ImpactEvent, Measurement } from "../evidence.js";
import { clickChatter } from "./click-chatter.js";
import { clickKind } from "./click-kind.js";
import { clickSeries } from "./click-series.js";
import { findImpacts } from "./impacts.js";
import { ping } from "./ping.js";
import { noiseFallsWithDrum, noiseStopsWithPower } from "./power-cut.js";
import { singleBang } from "./single-bang.js";
import { startClatter, startClatterFalling } from "./start-clatter.js";
import { thumpRate } from "./thump-rate.js";
import { tumbleKnocks } from "./tumble-knocks.js";

export type EventFeatureId =
  | "start-clatter"
  | "start-clatter-falling"
  | "click-series"
  | "click-chatter"
  | "click-rate"
  | "click-pitch"
  | "tumble-knocks"
  | "thump-rate"
  | "single-bang"
  | "ping"
  | "noise-stops-with-power"
  | "noise-falls-with-drum";

export type EventFeatures = Readonly<Record<EventFeatureId, Measurement>>;

/** Single and repeated events of the clip, and what the sound does when the drive starts or stops. */
export function observeEvents(
  context: ListeningContext,
  impacts: readonly ImpactEvent[] = findImpacts(context),
): EventFeatures {
  return {
    "start-clatter": startClatter(context),
    "start-clatter-falling": startClatterFalling(context),
    "click-series": clickSeries(context, impacts),
    "click-chatter": clickChatter(context, impacts),
    ...clickKind(context, impacts),
    "tumble-knocks": tumbleKnocks(context, impacts),
    "thump-rate": thumpRate(context, impacts),
    "single-bang": singleBang(context, impacts),
    ping: ping(context, impacts),
    "noise-stops-with-power": noiseStopsWithPower(context),
    "noise-falls-with-drum": noiseFallsWithDrum(context),
  };
}
