import type { ListeningContext } from "../context.js";
import type { Measurement, MissingReason } from "../evidence.js";
import { measured, missing } from "../measurement.js";
import { findStrokes } from "./find-strokes.js";
import type { StrokePattern } from "./stroke-pattern.js";
import { strokeClack, strokeRattle } from "./stroke-blows.js";
import { strokeChirp } from "./stroke-chirp.js";
import { strokeGrowl } from "./stroke-growl.js";
import { strokeOneWay } from "./stroke-one-way.js";

export type StrokeFeatureId =
  | "stroke-rate"
  | "stroke-growl"
  | "stroke-clack"
  | "stroke-one-way"
  | "stroke-chirp"
  | "stroke-rattle";

export type StrokeFeatures = Readonly<Record<StrokeFeatureId, Measurement>>;

function allMissing(reason: MissingReason): StrokeFeatures {
  return {
    "stroke-rate": missing(reason),
    "stroke-growl": missing(reason),
    "stroke-clack": missing(reason),
    "stroke-one-way": missing(reason),
    "stroke-chirp": missing(reason),
    "stroke-rattle": missing(reason),
  };
}

function strokeRate(pattern: StrokePattern): Measurement {
  const count = pattern.strokes.length;
  const even = Math.max(0, 1 - pattern.unevenness);
  return measured(1 / pattern.periodSeconds, (even * count) / (count + 3), {
    kind: pattern.kind,
    strokes: count,
    contrastDb: pattern.contrastDb,
  });
}

const weaken = (measurement: Measurement, factor: number): Measurement => ({
  ...measurement,
  quality: measurement.quality * factor,
});

/**
 * What is heard inside, between and at the ends of the wash's strokes (or, on a tumbling drum, of its
 * on-off cycles). Strokes are looked for in the wash and in clips whose phase was not told; where none
 * are found, or the clip is short, everything is missing with that reason.
 */
export function observeStrokes(context: ListeningContext): StrokeFeatures {
  if (context.toldPhase !== "wash" && context.toldPhase !== "unknown") return allMissing("phase");
  if (context.recording.durationSeconds < 4) return allMissing("short");
  const pattern = findStrokes(context);
  if (!pattern) return allMissing("no-events");
  const features: StrokeFeatures = {
    "stroke-rate": strokeRate(pattern),
    "stroke-growl": strokeGrowl(context, pattern),
    "stroke-clack": strokeClack(context, pattern),
    "stroke-one-way": strokeOneWay(context, pattern),
    "stroke-chirp": strokeChirp(context, pattern),
    "stroke-rattle": strokeRattle(context, pattern),
  };
  if (!pattern.drumRate) return features;
  // What beats with the drum's own turning is more likely its modulation than strokes.
  const entries = Object.entries(features) as [StrokeFeatureId, Measurement][];
  return Object.fromEntries(entries.map(([id, m]) => [id, weaken(m, 0.3)])) as StrokeFeatures;
}
