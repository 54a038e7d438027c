/** A figure's name taken apart: `top event-low.4` is the event figure of octave 4, loudest moments. */
export interface FigureName {
  readonly top: boolean;
  /** `event-low`, `click-rise`, `modulation` ... */
  readonly kind: string;
  readonly octave: number;
  /** Band of modulation of `modulation` and `against`, distance of octaves of `together`; else null. */
  readonly step: number | null;
}

/** Reads the names that `portraitOf` and `summaryOf` give. */
export function parseFigureName(name: string): FigureName {
  const top = name.startsWith("top ");
  const [kind = "", first = "", second] = (top ? name.slice(4) : name).split(".");
  if (second === undefined) return { top, kind, octave: Number(first), step: null };
  const stepFirst = kind.endsWith("together");
  return {
    top,
    kind,
    octave: Number(stepFirst ? second : first),
    step: Number(stepFirst ? first : second),
  };
}

// Middle of the octaves whose peaks are the events.
const EVENT_CENTRES: Readonly<Record<string, number>> = { low: 0.5, middle: 2.5, high: 5 };

// An event's own octaves, those below and those above behave alike.
function place(kind: string, octave: number): string {
  const centre = EVENT_CENTRES[kind.split("-")[1]!]!;
  if (Math.abs(octave - centre) <= 1) return "own";
  return octave < centre ? "below" : "above";
}

/** Figures that are alike in every octave share one row of the model: its name. */
export function familyOf(name: string): string {
  const { top, kind, octave, step } = parseFigureName(name);
  const prefix = top ? "top " : "";
  if (step !== null) return `${prefix}${kind}.${step}`;
  if (/^(event|ring)-/.test(kind)) return `${prefix}${kind}.${place(kind, octave)}`;
  return prefix + kind;
}

const SLOW_STEPS = 3;
const MIDDLE_STEPS = 5;

/** Families that tell of the same side of the sound share a weight. */
export function aspectOf(family: string): string {
  const top = family.startsWith("top ");
  const [kind = "", step] = (top ? family.slice(4) : family).split(".");
  const prefix = top ? "top " : "";
  if (kind !== "modulation" && kind !== "against") return prefix + kind;
  const band = Number(step);
  const pace = band < SLOW_STEPS ? "slow" : band < MIDDLE_STEPS ? "mid" : "fast";
  return `${prefix}${kind}-${pace}`;
}
