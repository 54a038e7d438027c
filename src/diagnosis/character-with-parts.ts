import { CHARACTERS, type Character, type Component } from "../machine/words.js";
import { answerFromShares, type CharacterAnswer } from "./character.js";
import { soundsOfPart } from "./sounds-of-part.js";

/**
 * What a recording sounds like, once it is also known which parts may make the noise:
 * P(k) = Σ_c P(c) · s_c(k) x(k) / Σ_j s_c(j) x(j), with x the shares by ear alone and s_c how part c sounds.
 * The ranking weighs each part by Σ_j s_c(j) x(j), so that this is the other margin of one and the same joint
 * probability: a word that hardly any of the likely parts would earn is not said.
 *
 * @param parts all parts with their chance, summing to 1
 */
export function characterWithParts(
  byEar: CharacterAnswer,
  parts: readonly { readonly component: Component; readonly probability: number }[],
): CharacterAnswer {
  const shares = Object.fromEntries(CHARACTERS.map((one) => [one, 0])) as Record<Character, number>;
  for (const { component, probability } of parts) {
    const sounds = soundsOfPart(component);
    const joint = CHARACTERS.map((one) => sounds[one] * byEar.shares[one]);
    const whole = joint.reduce((sum, share) => sum + share, 0);
    CHARACTERS.forEach((one, i) => (shares[one] += (probability * joint[i]!) / whole));
  }
  return answerFromShares(shares);
}
