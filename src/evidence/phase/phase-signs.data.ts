import type { Phase, Sourced } from "../../machine/words.js";

/** Something that is heard and speaks for or against phases. */
export interface PhaseSign extends Sourced {
  readonly id: PhaseSignId;
  /** Natural log of how much more likely the sign is in the phase than elsewhere, at full strength. */
  readonly logOdds: Readonly<Partial<Record<Phase, number>>>;
}

export type PhaseSignId =
  | "spin-speed"
  | "spreading-speed"
  | "tumble-speed"
  | "speed-rises"
  | "speed-falls"
  | "level-falls"
  | "level-rises"
  | "no-shaft"
  | "agitation-strokes"
  | "on-off-cycles"
  | "stop-and-go"
  | "mains-without-shaft"
  | "no-mains-without-shaft"
  | "mains-while-slowing"
  | "hiss-without-shaft"
  | "crackle-without-shaft"
  | "knocks-without-shaft"
  | "sound-cut"
  | "hum-leads"
  | "no-hum"
  | "stops-without-hum"
  | "tone-leads"
  | "level-swings"
  | "dull-steady";

/** Log-weights before anything is heard: recordings of a noise are mostly made in the spin. */
export const PHASE_PRIORS: Readonly<Record<Phase, number>> = {
  fill: -0.6,
  wash: 0.2,
  drain: -0.2,
  spin: 0.5,
  coast: -0.9,
  "hand-spin": -2.2,
  unknown: 0.9,
};

const turning = "what turns in which phase, trade reference 1.2";

export const PHASE_SIGNS: readonly PhaseSign[] = [
  {
    id: "spin-speed",
    logOdds: { spin: 3, coast: 1.2, wash: -3, fill: -3, drain: -1.5, "hand-spin": -2 },
    source: `${turning}: only the spin and its run-down turn the drum faster than 250 rpm`,
    provenance: "common practice",
  },
  {
    id: "spreading-speed",
    logOdds: { spin: 1.5, coast: 0.7, wash: -0.5, fill: -1.5, drain: -0.5 },
    source: "distribution ramp and hold at 50-100 rpm, trade reference 1.2",
    provenance: "from memory",
  },
  {
    id: "tumble-speed",
    logOdds: { wash: 2, "hand-spin": 0.7, drain: 0.2, spin: -0.7, coast: 0.2, fill: 0.2 },
    source: `${turning}: a front loader tumbles at 40-55 rpm`,
    provenance: "from memory",
  },
  {
    id: "speed-rises",
    logOdds: { spin: 1.8, coast: -3, "hand-spin": -1, wash: -0.5, fill: -1, drain: -1 },
    source: `${turning}: the drum gains speed only when it is driven`,
    provenance: "common practice",
  },
  {
    id: "speed-falls",
    logOdds: { coast: 2.6, spin: -0.3, "hand-spin": 0.7, wash: -1, fill: -1, drain: -1 },
    source: "a run-down takes 20-90 s, a braked one 10-20 s, trade reference 1.2",
    provenance: "from memory",
  },
  {
    id: "level-falls",
    logOdds: { coast: 3, "hand-spin": 1, spin: -0.6, wash: -0.8, fill: -0.8, drain: -0.5 },
    source: `${turning}: a drum that runs out grows quieter all the time, a pump or a wash does not`,
    provenance: "common practice",
  },
  {
    id: "level-rises",
    logOdds: { spin: 1.8, coast: -2.5, "hand-spin": -1, wash: -0.8, fill: -0.8, drain: -0.8 },
    source: `${turning}: a drum that is driven up grows louder all the time`,
    provenance: "common practice",
  },
  {
    id: "no-shaft",
    logOdds: { spin: -1.2, coast: -1.5, "hand-spin": -0.8, fill: 0.3, drain: 0.3 },
    source: `${turning}: in fill and drain the drum stands`,
    provenance: "common practice",
  },
  {
    id: "agitation-strokes",
    logOdds: { wash: 4, spin: -2, coast: -3, drain: -2, fill: -2, "hand-spin": -2 },
    source: `${turning}: only the wash reverses stroke by stroke`,
    provenance: "common practice",
  },
  {
    id: "on-off-cycles",
    logOdds: { wash: 1.3, spin: 0.2, coast: -2, drain: 0.2, fill: 0, "hand-spin": -0.5 },
    source: "a front loader tumbles 8-20 s and rests 3-10 s, trade reference 1.2",
    provenance: "from memory",
  },
  {
    id: "stop-and-go",
    logOdds: { wash: 1.5, spin: -0.3, coast: -1.5, drain: -0.5, fill: -0.5 },
    source: `${turning}: the tumbling drum stops and reverses`,
    provenance: "common practice",
  },
  {
    id: "mains-without-shaft",
    logOdds: { drain: 1.9, fill: 1.1, wash: -0.3, coast: -1.5, "hand-spin": -2, spin: -0.5 },
    source: "a drain pump and a valve hum at the mains comb, trade reference 1.7 and 2.6",
    provenance: "common practice",
  },
  {
    id: "no-mains-without-shaft",
    logOdds: { drain: -1, fill: -0.4 },
    source: "most drain pumps run from the mains, trade reference 1.7",
    provenance: "published",
  },
  {
    id: "mains-while-slowing",
    logOdds: { coast: -0.8, spin: 0.4 },
    source: `${turning}: with the power cut nothing hums`,
    provenance: "common practice",
  },
  {
    id: "hiss-without-shaft",
    logOdds: { fill: 1.9, drain: -0.9 },
    source: "a valve's jet hisses at 1-8 kHz, trade reference 3.2",
    provenance: "from memory",
  },
  {
    id: "crackle-without-shaft",
    logOdds: { drain: 1, fill: -0.3 },
    source: "a pump that draws air crackles 2-20 times a second, trade reference 2.6",
    provenance: "from memory",
  },
  {
    id: "knocks-without-shaft",
    logOdds: { drain: 0.8 },
    source: "debris knocks in the pump, trade reference 2.6",
    provenance: "common practice",
  },
  {
    id: "sound-cut",
    logOdds: { coast: 1, spin: 0.2 },
    source: "noise of the drive ends with the power while the drum goes on, trade reference 0",
    provenance: "common practice",
  },
  {
    id: "hum-leads",
    logOdds: { fill: 1.8, drain: 1, spin: -0.7, coast: -1, "hand-spin": -1.5, wash: -0.5 },
    source: `${turning}: in fill and drain nothing but a valve or a pump runs, and both hum`,
    provenance: "common practice",
  },
  {
    id: "no-hum",
    logOdds: { "hand-spin": 1, coast: 0.8, drain: -0.7, fill: -0.7 },
    source: `${turning}: with the power cut nothing hums`,
    provenance: "common practice",
  },
  {
    id: "stops-without-hum",
    logOdds: { "hand-spin": 1.5, wash: 0.3 },
    source: "a drum pushed by hand goes and rests as the hand does, unplugged",
    provenance: "common practice",
  },
  {
    id: "tone-leads",
    logOdds: { spin: 0.4, coast: 0.4, wash: 0.2, "hand-spin": 0.2, drain: -0.5, fill: -0.8 },
    source: `${turning}: motors and gears whine only where something turns`,
    provenance: "common practice",
  },
  {
    id: "level-swings",
    logOdds: { "hand-spin": 1, coast: 0.5, spin: -0.4, drain: -0.3 },
    source: "a drum pushed by hand, and one that runs out, is loud and grows quiet",
    provenance: "common practice",
  },
  {
    id: "dull-steady",
    logOdds: { fill: 0.6, drain: 0.5, wash: -0.6 },
    source:
      "a load that is lifted and dropped, or a drum that sways, stirs the low notes; water and hum do not",
    provenance: "common practice",
  },
];
