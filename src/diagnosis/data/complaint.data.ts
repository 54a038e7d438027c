import type { Component, Sourced } from "../../machine/words.js";

/** What a customer tells that bears on the cause, or on whether the machine may run on. */
export type ComplaintFact =
  | "moved-or-new"
  | "leak"
  | "rust"
  | "oil"
  | "small-things"
  | "squealed-before"
  | "bedding"
  | "sudden"
  | "gradual"
  | "cold-wash"
  | "burning"
  | "sparks"
  | "walks"
  | "drum-play"
  | "touches-glass"
  | "turns-with-lid-open";

/** A told fact multiplies the odds of a part against the parts it says nothing of. */
export interface ComplaintFactor extends Sourced {
  readonly fact: ComplaintFact;
  readonly component: Component;
  readonly factor: number;
}

const guess = {
  source: "expert estimate of what a told circumstance is worth",
  provenance: "from memory",
} as const;

const factor = (fact: ComplaintFact, value: number, components: Component[]): ComplaintFactor[] =>
  components.map((component) => ({ fact, component, factor: value, ...guess }));

export const COMPLAINT_FACTORS: readonly ComplaintFactor[] = [
  ...factor("moved-or-new", 20, ["shipping-bolts"]),
  ...factor("moved-or-new", 3, ["levelling"]),
  ...factor("small-things", 4, ["foreign-object"]),
  ...factor("small-things", 3, ["drain-pump"]),
  ...factor("leak", 4, ["drum-bearing"]),
  ...factor("oil", 3, ["gear-case"]),
  ...factor("squealed-before", 3, ["drive-belt"]),
  ...factor("bedding", 3, ["unbalanced-load"]),
  ...factor("sudden", 2, ["drum-spider", "suspension", "motor-coupling", "foreign-object"]),
  ...factor("gradual", 2, ["drum-bearing", "gear-case", "motor-bearing"]),
  ...factor("cold-wash", 1.5, ["drum-spider"]),
];

/** Above this many loads a week a machine counts as `loads / perWeek` times as old. */
export const HARD_USE = { fromLoads: 8, perWeek: 4, ...guess } as const;

/** How a fact is said in a complaint: regular expressions, matched in small letters, English only. */
export interface ComplaintWords extends Sourced {
  readonly fact: ComplaintFact;
  readonly patterns: readonly string[];
  /** Not meant when one of these stands in the same part of the sentence. */
  readonly unless?: readonly string[];
}

const said = { source: "common practice, no source", provenance: "common practice" } as const;

export const COMPLAINT_WORDS: readonly ComplaintWords[] = [
  {
    fact: "moved-or-new",
    // "Do I need a new machine?" is asked of old ones.
    patterns: [
      "\\bmoved (?:house|home|flat|in\\b|it\\b|the (?:machine|washer))",
      "\\b(?:just|recently|we|i|been|was|were|got) moved\\b",
      "\\b(?:my|our|the|this) (?:brand[- ]?)?new (?:washing )?(?:machine|washer)\\b",
      "\\b(?:is|it's) (?:brand[- ]?)?new\\b",
      "\\b(?:just|newly|recently) (?:bought|delivered|installed)\\b",
      "\\bafter (?:the |a |our )?(?:move|delivery|installation)\\b",
    ],
    ...said,
  },
  {
    fact: "leak",
    patterns: ["\\bleak", "\\bwater (?:on|under|behind|at the (?:back|rear))", "\\bpuddle"],
    unless: ["\\b(?:door|front|hose|tap|drawer)\\b"],
    ...said,
  },
  { fact: "leak", patterns: ["\\brust(?:y|ed)? (?:water|trail|at|under|behind|from)"], ...said },
  { fact: "rust", patterns: ["\\brust"], ...said },
  { fact: "oil", patterns: ["\\boil(?:y)?\\b"], ...said },
  {
    fact: "small-things",
    patterns: [
      "\\bcoins?\\b",
      "\\bbra(?:s|\\b)",
      "\\b(?:dog|pet|cat)(?:'s)? bed",
      "\\b(?:screws?|nails?|keys?|hair ?pins?|underwire)\\b",
    ],
    ...said,
  },
  {
    fact: "squealed-before",
    patterns: [
      "\\b(?:used to|at first|first it|started (?:with|by)) [^.]{0,20}(?:squeal|screech)",
      "\\b(?:squeal|screech)\\w*[^.]{0,20}\\b(?:before|at first|for (?:weeks|months)|earlier)\\b",
    ],
    ...said,
  },
  { fact: "bedding", patterns: ["\\b(?:duvet|bedding|quilt|blanket|comforter)"], ...said },
  {
    fact: "sudden",
    patterns: ["\\bsudden", "\\bovernight\\b", "\\bfrom one (?:day|wash|load) to the next"],
    ...said,
  },
  {
    fact: "gradual",
    patterns: [
      "\\bgradual",
      "\\b(?:getting|got|gets|grew|growing) (?:slowly )?(?:worse|louder)\\b",
      "\\b(?:for|over) (?:the (?:last|past) )?(?:few |several |some )?(?:months|years)\\b",
    ],
    ...said,
  },
  {
    fact: "cold-wash",
    patterns: [
      "\\b(?:only|always) (?:wash\\w* )?(?:in |at )?cold\\b",
      "\\bcold (?:water )?only\\b",
    ],
    ...said,
  },
  { fact: "burning", patterns: ["\\bburn(?:t|ed|ing)\\b", "\\bsmok(?:e|es|ing|y)\\b"], ...said },
  { fact: "sparks", patterns: ["\\bspark(?:s|ed|ing)?\\b"], ...said },
  {
    fact: "walks",
    patterns: [
      "\\bwalk(?:s|ed|ing)\\b",
      "\\b(?:moves|moving|jumps|jumping|hops|travels|wanders) (?:around|about|across|along|over|out)\\b",
    ],
    unless: ["\\b(?:i|we|you|she|he|they) walk"],
    ...said,
  },
  {
    fact: "drum-play",
    patterns: [
      "\\b(?:drum|basket)\\b[^.]{0,20}\\b(?:loose|wobbl\\w*|play|drops?|dropped|sags?|hangs?)\\b",
      "\\bloose (?:drum|basket)\\b",
    ],
    ...said,
  },
  {
    fact: "touches-glass",
    patterns: [
      "\\b(?:touch|rub|hit|scrap)\\w*[^.]{0,20}\\b(?:glass|door|boot|gasket|seal)\\b",
      "\\b(?:boot|gasket|door seal|rubber)\\b[^.]{0,20}\\b(?:cut|torn|ripped)\\b",
      "\\b(?:cut|torn|ripped) (?:boot|gasket|door seal|rubber)\\b",
    ],
    ...said,
  },
  {
    fact: "turns-with-lid-open",
    patterns: [
      "\\b(?:spins|turns|spinning|turning|running)\\b[^.]{0,30}\\b(?:lid|door) (?:is |was )?open",
      "\\b(?:lid|door) (?:is |was )?open[^.]{0,20}\\b(?:spins|turns|spinning|turning)\\b",
    ],
    ...said,
  },
];

/** Words before a fact that take it back, and how many words before it they may stand. */
export const NEGATIONS = {
  words: ["no", "not", "never", "without", "neither", "nor", "cannot"],
  within: 4,
  ...said,
} as const;
