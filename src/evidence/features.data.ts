/** One row of the catalogue of observations. */
export interface FeatureRow {
  readonly id: string;
  /** Unit of the value; "p" is a p-value in (0, 1], "share" lies in [0, 1]. */
  readonly unit:
    "p" | "share" | "dB" | "Hz" | "per second" | "ratio" | "dB/decade" | "seconds" | "rpm";
  readonly meaning: string;
  readonly group:
    "character" | "lines" | "turn" | "stroke" | "event" | "pump" | "scaling" | "machine";
}

/**
 * Catalogue of everything that is measured in a clip. All values are gain-free: multiplying the
 * recording by a constant changes none of them.
 */
export const FEATURES = [
  // Character of the sound
  {
    id: "tone-share",
    unit: "share",
    group: "character",
    meaning: "power of 90-7500 Hz in narrow lines off the mains comb",
  },
  {
    id: "tone-prominence",
    unit: "dB",
    group: "character",
    meaning:
      "most prominent non-mains tone over its critical band (ECMA-418-1 tone-to-noise ratio), above its prominence criterion",
  },
  {
    id: "mains-share",
    unit: "share",
    group: "character",
    meaning: "power of 90-2000 Hz in lines of the mains comb",
  },
  {
    id: "roughness",
    unit: "ratio",
    group: "character",
    meaning: "modulation index of 1-6 kHz at 20-150 Hz beyond what noise of that bandwidth has",
  },
  {
    id: "roughness-periodic",
    unit: "share",
    group: "character",
    meaning: "part of the modulation that lies on drum, motor and mains rates",
  },
  {
    id: "fluctuation",
    unit: "ratio",
    group: "character",
    meaning: "modulation index of 1-6 kHz at 2-20 Hz beyond noise",
  },
  {
    id: "impulsiveness",
    unit: "ratio",
    group: "character",
    meaning: "median block excess kurtosis, 1-6 kHz",
  },
  {
    id: "impulsiveness-low",
    unit: "ratio",
    group: "character",
    meaning: "median block excess kurtosis, 60-500 Hz",
  },
  {
    id: "flatness",
    unit: "ratio",
    group: "character",
    meaning:
      "geometric over arithmetic mean of density inside thirds of an octave, 1-6 kHz, median",
  },
  {
    id: "impulse-rate",
    unit: "per second",
    group: "character",
    meaning: "sharp impulses in 1-6 kHz",
  },
  {
    id: "impulse-irregularity",
    unit: "ratio",
    group: "character",
    meaning: "coefficient of variation of the gaps between impulses: 1 random, under 0.3 regular",
  },
  {
    id: "even-ticks",
    unit: "share",
    group: "character",
    meaning: "evenness of 12-90 ticks a second: 1 for a clock, 0 for chance",
  },
  {
    id: "crackle",
    unit: "ratio",
    group: "character",
    meaning: "excess kurtosis that 2-4 kHz shares with the band above 6 kHz, median over blocks",
  },
  {
    id: "high-band-share",
    unit: "share",
    group: "character",
    meaning: "power above 4 kHz over power above 1 kHz",
  },
  {
    id: "low-band-share",
    unit: "share",
    group: "character",
    meaning: "power of 90-400 Hz over power of 90-4000 Hz",
  },
  // Rhythm that needs no drum speed
  {
    id: "beat-low",
    unit: "dB",
    group: "turn",
    meaning:
      "strongest rhythm of 1.2-26 Hz in the level of 60-500 Hz over the level's own spectrum",
  },
  {
    id: "beat-high",
    unit: "dB",
    group: "turn",
    meaning: "strongest rhythm of 1.2-26 Hz in the level of 1-6 kHz over the level's own spectrum",
  },
  {
    id: "swing-low",
    unit: "dB",
    group: "turn",
    meaning: "10-90 % range of the level of 60-500 Hz in 20 ms steps, slow changes taken out",
  },
  {
    id: "swing-high",
    unit: "dB",
    group: "turn",
    meaning: "10-90 % range of the level of 1-6 kHz in 20 ms steps, slow changes taken out",
  },
  {
    id: "swell-low",
    unit: "dB",
    group: "turn",
    meaning: "how far 60-500 Hz swells for seconds and falls back, over the level before and after",
  },
  {
    id: "swell-high",
    unit: "dB",
    group: "turn",
    meaning: "the same in the octave above 500 Hz that swells most",
  },
  // Squeal
  {
    id: "squeal-prominence",
    unit: "dB",
    group: "event",
    meaning: "90 % quantile of the strongest ridge above 300 Hz over its surroundings",
  },
  {
    id: "squeal-swing",
    unit: "dB",
    group: "event",
    meaning: "how far that ridge's prominence rises and falls",
  },
  {
    id: "squeal-fixed-pitch",
    unit: "share",
    group: "event",
    meaning:
      "share of squealing time in which pitch stays within 3 % while speed moves or the tone starts and stops",
  },
  {
    id: "squeal-at-start",
    unit: "share",
    group: "event",
    meaning:
      "share of squealing time that lies in the first part of a run-up or right after a start",
  },
  {
    id: "squeal-at-slowing",
    unit: "share",
    group: "event",
    meaning: "share of squealing time that lies where the drum slows down",
  },
  {
    id: "squeal-once-per-turn",
    unit: "p",
    group: "event",
    meaning: "the squeal is gated once per drum turn",
  },
  {
    id: "squeal-at-reversal",
    unit: "p",
    group: "event",
    meaning: "the squeal comes with the strokes or reversals",
  },
  // Lines at expected rates (smallest Holm-adjusted p of the lines of that group)
  {
    id: "line-belt",
    unit: "p",
    group: "lines",
    meaning: "modulation or ticks at the belt's own rate or twice it",
  },
  {
    id: "line-drum-bearing",
    unit: "p",
    group: "lines",
    meaning: "modulation at a race, ball or cage rate of a drum bearing",
  },
  {
    id: "line-motor-bearing",
    unit: "p",
    group: "lines",
    meaning: "tones or modulation at a race, ball or cage rate of a motor bearing",
  },
  {
    id: "line-motor-shaft",
    unit: "p",
    group: "lines",
    meaning: "modulation or raised harmonics 2-6 at the motor's rotation",
  },
  {
    id: "motor-harmonic-excess",
    unit: "dB",
    group: "lines",
    meaning: "motor harmonics 2-6 against harmonic 1 and the surroundings",
  },
  {
    id: "line-commutator",
    unit: "p",
    group: "lines",
    meaning: "commutator bar or armature slot passage",
  },
  {
    id: "line-pole-pass",
    unit: "p",
    group: "lines",
    meaning: "magnet pole, slot or torque-ripple orders of the motor",
  },
  {
    id: "pole-pass-sidebands",
    unit: "dB",
    group: "lines",
    meaning: "once-per-turn sidebands of those orders against the orders themselves",
  },
  {
    id: "line-gear-mesh",
    unit: "p",
    group: "lines",
    meaning: "gear mesh and its harmonics, following each stroke",
  },
  {
    id: "line-coupling",
    unit: "p",
    group: "lines",
    meaning: "one and three times motor rotation together",
  },
  // Once per drum turn
  {
    id: "turn-modulation",
    unit: "ratio",
    group: "turn",
    meaning: "depth of level modulation at 1 per drum turn, 0.5-6 kHz",
  },
  {
    id: "turn-modulation-p",
    unit: "p",
    group: "turn",
    meaning: "significance of that modulation against decoy rates",
  },
  {
    id: "turn-impact",
    unit: "p",
    group: "turn",
    meaning: "onsets of blows come once (or a small number of times) per drum turn",
  },
  {
    id: "turn-impact-low",
    unit: "dB",
    group: "turn",
    meaning: "blow at 60-500 Hz over the level between blows, averaged over turns",
  },
  {
    id: "turn-impact-high",
    unit: "dB",
    group: "turn",
    meaning: "blow at 1-6 kHz over the level between blows, averaged over turns",
  },
  {
    id: "turn-impact-crest",
    unit: "ratio",
    group: "turn",
    meaning: "peak over RMS of the turn-averaged envelope: smooth under 2, blow above 3",
  },
  {
    id: "turn-double",
    unit: "dB",
    group: "turn",
    meaning: "modulation at 2 per turn against 1 per turn",
  },
  {
    id: "turn-triple",
    unit: "dB",
    group: "turn",
    meaning: "modulation at 3 per turn against 1 per turn",
  },
  { id: "turn-half", unit: "p", group: "turn", meaning: "modulation at one half per turn" },
  { id: "turn-misses", unit: "share", group: "turn", meaning: "share of turns without a blow" },
  {
    id: "turn-phase-spread",
    unit: "share",
    group: "turn",
    meaning: "circular spread of the blows' angle, 0 always the same, 1 anywhere",
  },
  {
    id: "turn-slow-beat",
    unit: "ratio",
    group: "turn",
    meaning: "beating of the once-per-turn part at 0.1-2 Hz",
  },
  {
    id: "thump-window",
    unit: "dB",
    group: "turn",
    meaning: "once-per-turn blow at 100-350 drum rpm against above 450 rpm",
  },
  {
    id: "thump-at-speed",
    unit: "dB",
    group: "turn",
    meaning: "once-per-turn blow at 60-500 Hz over background above 450 rpm",
  },
  {
    id: "thump-at-end",
    unit: "dB",
    group: "turn",
    meaning: "blows in the last turns of a run-down over those before",
  },
  {
    id: "tumble-clack",
    unit: "p",
    group: "turn",
    meaning: "one to three clacks per turn below 70 rpm",
  },
  {
    id: "scrape-gated",
    unit: "dB",
    group: "turn",
    meaning: "noise of 1-8 kHz confined to a part of the turn, that part against the rest",
  },
  // Strokes and reversals of the wash
  {
    id: "stroke-rate",
    unit: "per second",
    group: "stroke",
    meaning: "agitation strokes or reversals",
  },
  {
    id: "stroke-growl",
    unit: "dB",
    group: "stroke",
    meaning:
      "roughness and tones inside the strokes against the pauses, above what the motor's start makes",
  },
  {
    id: "stroke-clack",
    unit: "dB",
    group: "stroke",
    meaning: "single blow at the start or end of strokes over the stroke's own level",
  },
  {
    id: "stroke-one-way",
    unit: "dB",
    group: "stroke",
    meaning: "clicks in every second stroke against the strokes between",
  },
  {
    id: "stroke-chirp",
    unit: "p",
    group: "stroke",
    meaning: "tones rise and fall with each stroke",
  },
  {
    id: "stroke-rattle",
    unit: "ratio",
    group: "stroke",
    meaning: "impulsiveness inside the strokes",
  },
  // Events
  {
    id: "start-clatter",
    unit: "dB",
    group: "event",
    meaning: "burst of clatter as the drum starts to be driven",
  },
  {
    id: "start-clatter-falling",
    unit: "p",
    group: "event",
    meaning: "the clatter's rate falls as the drum catches up",
  },
  {
    id: "click-series",
    unit: "ratio",
    group: "event",
    meaning: "clicks 1-5 s apart with hum or pause between, as retries",
  },
  {
    id: "click-chatter",
    unit: "p",
    group: "event",
    meaning: "clicks repeated 1-10 times a second, not tied to a shaft",
  },
  {
    id: "click-rate",
    unit: "per second",
    group: "event",
    meaning: "clicks of one kind a second",
  },
  { id: "click-pitch", unit: "Hz", group: "event", meaning: "centre of the typical click" },
  {
    id: "tumble-knocks",
    unit: "p",
    group: "event",
    meaning: "single blows keep the slow beat of a tumbling drum",
  },
  {
    id: "thump-rate",
    unit: "per second",
    group: "event",
    meaning: "dull blows that follow each other",
  },
  {
    id: "single-bang",
    unit: "dB",
    group: "event",
    meaning: "one heavy bang with a ring, after which steady sound ends",
  },
  {
    id: "ping",
    unit: "dB",
    group: "event",
    meaning: "rings at 2-9 kHz with 10-40 ms decay over the surroundings",
  },
  // Pump and mains
  {
    id: "mains-comb",
    unit: "dB",
    group: "pump",
    meaning: "lines at multiples of the mains frequency over their surroundings",
  },
  {
    id: "mains-comb-order",
    unit: "ratio",
    group: "pump",
    meaning: "power-weighted mean multiple of the comb: 2 pure hum, higher a buzzing one",
  },
  {
    id: "pump-knock",
    unit: "ratio",
    group: "pump",
    meaning: "irregular hard knocks while the mains comb sounds and no shaft turns",
  },
  {
    id: "pump-crackle",
    unit: "ratio",
    group: "pump",
    meaning: "bursts of 1-8 kHz noise 2-20 times a second, random",
  },
  {
    id: "mains-modulation",
    unit: "p",
    group: "pump",
    meaning: "noise of 0.5-6 kHz modulated at the mains frequency or its fractions",
  },
  {
    id: "jet-hiss",
    unit: "share",
    group: "pump",
    meaning: "steady noise of 1-8 kHz without modulation",
  },
  // How things move with speed
  {
    id: "level-slope",
    unit: "dB/decade",
    group: "scaling",
    meaning: "0.5-6 kHz level against drum speed",
  },
  {
    id: "fixed-buzz",
    unit: "dB",
    group: "scaling",
    meaning:
      "band of fixed frequency that swells in a narrow speed range, against its level elsewhere",
  },
  {
    id: "carrier",
    unit: "dB",
    group: "scaling",
    meaning: "steady tone above 7 kHz that does not move while the speed does",
  },
  {
    id: "noise-stops-with-power",
    unit: "p",
    group: "scaling",
    meaning: "the noise ends at once while the drum goes on turning",
  },
  {
    id: "noise-falls-with-drum",
    unit: "p",
    group: "scaling",
    meaning: "the noise dies down together with the drum's speed",
  },
  // Is it a machine at all
  {
    id: "machine-likeness",
    unit: "ratio",
    group: "machine",
    meaning:
      "log-odds that a steady rotating or mains-driven appliance is heard, from continuity, comb and modulation",
  },
  {
    id: "loudness-steadiness",
    unit: "dB",
    group: "machine",
    meaning: "10-90 % range of the 0.5 s level",
  },
] as const satisfies readonly FeatureRow[];

export type FeatureId = (typeof FEATURES)[number]["id"];
