/** A figure's name taken apart: `event-low.4` is the event figure of octave 4. */
export interface FigureName {
  /** `event-low`, `click-rise`, `modulation` ... */
  readonly kind: string;
  readonly octave: number;
  /** Band of modulation of `modulation` and `against`, distance of octaves of `together`; else null. */
  readonly step: number | null;
}

/** Reads the names that `portraitOf` gives. */
export function parseFigureName(name: string): FigureName {
  const [kind = "", first = "", second] = name.split(".");
  if (second === undefined) return { kind, octave: Number(first), step: null };
  const stepFirst = kind.endsWith("together");
  return {
    kind,
    octave: Number(stepFirst ? second : first),
    step: Number(stepFirst ? first : second),
  };
}
