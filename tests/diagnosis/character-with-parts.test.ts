import { describe, expect, it } from "vitest";
import { answerFromShares } from "../../src/diagnosis/character.js";
import { characterWithParts } from "../../src/diagnosis/character-with-parts.js";
import { CHARACTER_LIKELIHOOD } from "../../src/diagnosis/data/character-likelihood.data.js";
import { CHARACTERS, type Character } from "../../src/machine/words.js";

const even = Object.fromEntries(CHARACTERS.map((one) => [one, 1 / CHARACTERS.length]));
const shares = (given: Partial<Record<Character, number>>): Record<Character, number> => {
  const raw = { ...even, ...given } as Record<Character, number>;
  const sum = CHARACTERS.reduce((total, one) => total + raw[one], 0);
  return Object.fromEntries(CHARACTERS.map((one) => [one, raw[one] / sum])) as typeof raw;
};

describe("what a recording sounds like, given which parts are likely", () => {
  it("is a margin of the joint probability of parts and words (law of total probability)", () => {
    const ear = answerFromShares(shares({ thumping: 0.7, rattling: 0.5, none: 0.3 }));
    // The joint table by definition, from a prior over parts that the sound has not moved yet.
    const prior = CHARACTER_LIKELIHOOD.map((_, i) => 1 + (i % 5));
    const joint = CHARACTER_LIKELIHOOD.map(({ sounds }, i) =>
      CHARACTERS.map((one) => prior[i]! * sounds[one] * ear.shares[one]),
    );
    const whole = joint.flat().reduce((sum, x) => sum + x, 0);
    const parts = CHARACTER_LIKELIHOOD.map(({ component }, i) => ({
      component,
      probability: joint[i]!.reduce((sum, x) => sum + x, 0) / whole,
    }));
    const heard = characterWithParts(ear, parts);
    CHARACTERS.forEach((one, k) => {
      const margin = joint.reduce((sum, row) => sum + row[k]!, 0) / whole;
      expect(heard.shares[one]).toBeCloseTo(margin, 10);
    });
  });

  it("leaves a near tie by ear to the part: a suspension thumps, dogs rattle", () => {
    const ear = answerFromShares(shares({ thumping: 0.6, rattling: 0.62 }));
    const when = (component: "suspension" | "agitator-dogs"): Character =>
      characterWithParts(ear, [{ component, probability: 1 }]).label;
    expect(ear.label).toBe("rattling");
    expect(when("suspension")).toBe("thumping");
    expect(when("agitator-dogs")).toBe("rattling");
  });

  it("does not talk a plain squeal away, whatever part is likely", () => {
    const ear = answerFromShares(shares({ squealing: 40 }));
    const heard = characterWithParts(ear, [{ component: "suspension", probability: 1 }]);
    expect(heard.scores.squealing).toBeGreaterThan(heard.scores.rattling);
    expect(characterWithParts(ear, [{ component: "drum-bearing", probability: 1 }]).label).toBe(
      "squealing",
    );
  });
});
