import type { ListeningContext } from "../context.js";
import type { LineFinding, Measurement, ToneFinding } from "../evidence.js";
import type { FeatureId } from "../features.data.js";
import { carrier } from "./carrier.js";
import { findLines } from "./find-lines.js";
import { fixedBuzz } from "./fixed-buzz.js";
import { gearMesh } from "./gear-mesh.js";
import { lineFeatures } from "./line-features.js";
import { viewsOf } from "./line-views.js";
import { linesAtMainsSpeed } from "./mains-motor.js";
import { mainsFeatures } from "./mains-features.js";
import { motorFeatures } from "./motor-features.js";
import { levelSlope } from "./speed-levels.js";
import { listTones } from "./tones.js";

/** Lines at expected rates, the clip's strongest tones, and the rows of the catalogue they fill. */
export interface LineObservations {
  readonly lines: readonly LineFinding[];
  readonly tones: readonly ToneFinding[];
  readonly features: Partial<Record<FeatureId, Measurement>>;
}

/**
 * Listens for every line that the washer could make at the speeds found, for strong tones whatever makes
 * them, and for how level and tones move with the drum.
 *
 * Modulation of the octaves and tones of the sound are laid out over orders of the drum (over hertz for
 * what follows the mains); each expected line is tested as a comb of three harmonics against the
 * clip's own background, so that the p-values hold in any room, on any phone.
 */
export function observeLines(context: ListeningContext): LineObservations {
  const views = viewsOf(context);
  const expected = linesAtMainsSpeed(context);
  const lines = findLines(expected, views);
  const ofLines = lineFeatures(context, views, lines);
  return {
    lines,
    tones: listTones(context, views),
    features: {
      ...ofLines,
      ...motorFeatures(context, views, ofLines),
      "line-gear-mesh": gearMesh(context, views, expected),
      ...mainsFeatures(context, views),
      "level-slope": levelSlope(context),
      "fixed-buzz": fixedBuzz(context),
      carrier: carrier(context, views.shafts),
    },
  };
}
