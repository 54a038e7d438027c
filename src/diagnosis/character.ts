import type { Evidence } from "../evidence/evidence.js";
import { logSumExp } from "../foundation/statistics.js";
import { CHARACTERS, type Character } from "../machine/words.js";
import {
  CHARACTER_BIAS,
  CHARACTER_RULES,
  type CharacterRule,
} from "./data/character-rules.data.js";
import { LEARNED } from "./data/learned.data.js";
import { presenceOf } from "./presence.js";

export type HeardCharacter = Exclude<Character, "none">;

const HEARD = CHARACTERS.filter((character): character is HeardCharacter => character !== "none");

export interface CharacterAnswer {
  /** The likeliest single character, `none` when nothing unusual is likelier than any. */
  readonly label: Character;
  /** How likely each character is against nothing unusual, 0 to 1; they need not sum to anything. */
  readonly scores: Readonly<Record<HeardCharacter, number>>;
  /** Chance of each character when exactly one is meant; sums to 1. */
  readonly shares: Readonly<Record<Character, number>>;
}

/** Under which key tuning keeps what it adds to a character row. */
export function characterKey({ character, feature, presence }: CharacterRule): string {
  const at = presence.form === "p" ? "p" : `${presence.form} ${presence.at}`;
  return `${character}/${feature}/${at}`;
}

const learned = (key: string): number => LEARNED[key] ?? 0;

function logOddsOf(evidence: Evidence, character: HeardCharacter): number {
  let sum = CHARACTER_BIAS[character] + learned(`bias/${character}`);
  for (const rule of CHARACTER_RULES) {
    if (rule.character !== character) continue;
    const measurement = evidence.features[rule.feature];
    const x = presenceOf(rule.presence, measurement);
    if (x === null) continue;
    const key = characterKey(rule);
    const present = rule.present + learned(`${key}/present`);
    const absent = rule.absent + learned(`${key}/absent`);
    sum += measurement.quality * (x * present + (1 - x) * absent);
  }
  return sum;
}

/** The likeliest character, and the strength of each against nothing unusual. */
export function answerFromShares(shares: Readonly<Record<Character, number>>): CharacterAnswer {
  const scores = Object.fromEntries(
    HEARD.map((character) => [character, shares[character] / (shares[character] + shares.none)]),
  ) as Record<HeardCharacter, number>;
  const label = CHARACTERS.reduce((top, character) =>
    shares[character] > shares[top] ? character : top,
  );
  return { label, scores, shares };
}

/** Says by ear alone what kind of noise is heard, from the rows of `character-rules.data.ts`. */
export function characterOf(evidence: Evidence): CharacterAnswer {
  const logOdds = HEARD.map((character) => logOddsOf(evidence, character));
  const total = logSumExp([...logOdds, 0]);
  return answerFromShares(
    Object.fromEntries([
      ...HEARD.map((character, i) => [character, Math.exp(logOdds[i]! - total)] as const),
      ["none", Math.exp(-total)] as const,
    ]) as Record<Character, number>,
  );
}
