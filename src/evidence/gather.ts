import { observeCharacter } from "./character/observe-character.js";
import type { ListeningContext } from "./context.js";
import { observeEvents } from "./event/observe-events.js";
import { findImpacts } from "./event/impacts.js";
import type { Evidence, Measurement } from "./evidence.js";
import { FEATURES, type FeatureId } from "./features.data.js";
import { observeLines } from "./lines/observe-lines.js";
import { guessPhase } from "./phase/guess-phase.js";
import { observePump } from "./pump/observe-pump.js";
import { observeStrokes } from "./stroke/observe-strokes.js";
import { observeRhythm } from "./rhythm/observe-rhythm.js";
import { observeTurn } from "./turn/observe-turn.js";

const UNSEEN: Measurement = { value: null, quality: 0, missing: "no-events" };

/**
 * Everything that is heard in one recording, as numbers: lines and tones, character, blows per turn,
 * strokes, events, pump, phase. Rows of the catalogue that no observer could fill are missing, not zero.
 */
export function gatherEvidence(context: ListeningContext): Evidence {
  const { lines, tones, features } = observeLines(context);
  const impacts = findImpacts(context);
  const seen: Partial<Record<FeatureId, Measurement>> = {
    ...features,
    ...observeCharacter(context),
    ...observeTurn(context),
    ...observeRhythm(context),
    ...observeStrokes(context),
    ...observeEvents(context, impacts),
    ...observePump(context, impacts),
  };
  const all = Object.fromEntries(FEATURES.map(({ id }) => [id, seen[id] ?? UNSEEN])) as Record<
    FeatureId,
    Measurement
  >;
  return { phase: guessPhase(context, all), features: all, lines, tones, impacts };
}
