import type { MachineProfile, Washer } from "../machine/profile.js";

/** A shaft or field whose tones can be heard, tied to the drum by a ratio. */
export interface ToneSource {
  /** Fundamental of the tones over drum speed: range to search; equal when known exactly. */
  readonly lowRatio: number;
  readonly highRatio: number;
  /** Motor turns per period of the fundamental: 1 for a motor shaft, 1 / poles for a direct drive. */
  readonly motorPerTone: number;
  /** Pole counts of a motor fed by the mains, whose speed keeps near 120 f_L / poles; else empty. */
  readonly mainsPoles: readonly number[];
  /** Share of belief; all sources of a washer sum to 1. */
  readonly weight: number;
}

/** How far ratios of built machines scatter beyond the usual span of a profile, nepers: other pulleys, worn ones, slip. */
export const RATIO_MARGIN = 0.15;

function sourcesOfProfile(profile: MachineProfile): ToneSource[] {
  if (profile.drive === "direct") {
    const poles = profile.motor.slotPolePairs.map(([, p]) => p);
    const distinct = [...new Set(poles.length > 0 ? poles : profile.motor.poles.values)];
    return distinct.map((count) => ({
      lowRatio: count,
      highRatio: count,
      motorPerTone: 1 / count,
      mainsPoles: [],
      weight: 1 / distinct.length,
    }));
  }
  return [
    {
      lowRatio: profile.motorToDrum.low * Math.exp(-RATIO_MARGIN),
      highRatio: profile.motorToDrum.high * Math.exp(RATIO_MARGIN),
      motorPerTone: 1,
      mainsPoles: profile.motor.kind === "induction-mains" ? profile.motor.poles.values : [],
      weight: 1,
    },
  ];
}

const keyOf = (s: ToneSource): string =>
  [s.lowRatio, s.highRatio, s.motorPerTone, ...s.mainsPoles].map((x) => x.toFixed(4)).join("/");

/** Every way in which this washer's drum may drive what is heard, without repeats. */
export function toneSources(washer: Washer): ToneSource[] {
  const merged = new Map<string, ToneSource>();
  for (const profile of washer.profiles) {
    for (const source of sourcesOfProfile(profile)) {
      const known = merged.get(keyOf(source));
      const weight = source.weight / washer.profiles.length + (known?.weight ?? 0);
      merged.set(keyOf(source), { ...source, weight });
    }
  }
  return [...merged.values()];
}
