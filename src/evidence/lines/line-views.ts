import type { ListeningContext } from "../context.js";
import { drumAxes, type SoundAxis } from "./drum-axes.js";
import type { LineViews } from "./place-lines.js";
import { shaftsOf, type Shafts } from "./shafts.js";
import { hertzEnvelopeAxis, hertzSoundAxis, strokeAxis, type HertzAxis } from "./time-axes.js";
import type { LineAxis } from "./line-axis.js";

/** All views of one clip, each made when first asked for. */
export interface ClipViews extends LineViews {
  readonly shafts: Shafts | null;
  readonly drumSound: () => SoundAxis | null;
  readonly hertzSound: () => HertzAxis | null;
}

function once<T>(make: () => T): () => T {
  let made: { readonly value: T } | null = null;
  return () => (made ??= { value: make() }).value;
}

const nothing = (): null => null;

export function viewsOf(context: ListeningContext): ClipViews {
  const shafts = shaftsOf(context);
  const axes = shafts === null ? null : drumAxes(context, shafts);
  return {
    shafts,
    drumHz: shafts?.drumKnown === true ? shafts.typicalHz : null,
    motorHz: shafts?.drumKnown === false ? shafts.typicalHz * shafts.motorRatio! : null,
    drumEnvelope: axes?.envelope ?? (nothing as () => LineAxis | null),
    drumFastEnvelope: axes?.fastEnvelope ?? (nothing as () => LineAxis | null),
    drumSound: axes?.sound ?? (nothing as () => SoundAxis | null),
    hertzEnvelope: once(() => hertzEnvelopeAxis(context, shafts)),
    hertzSound: once(() => hertzSoundAxis(context, shafts)),
    strokes: once(() => strokeAxis(context)),
  };
}
