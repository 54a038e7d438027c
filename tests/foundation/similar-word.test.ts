import { describe, expect, it } from "vitest";
import { didYouMean } from "../../src/foundation/similar-word.js";

const WORDS = ["drum-rock", "drain-only", "belt-off-spin", "front-load", "front-load-direct"];

describe("didYouMean(received, allowed)", () => {
  it("offers the word that one slip of the finger away was meant", () => {
    expect(didYouMean("drum-rok", WORDS)).toBe(' Did you mean "drum-rock"?');
    expect(didYouMean("durm-rock", WORDS)).toBe(' Did you mean "drum-rock"?');
    expect(didYouMean("front-lod", WORDS)).toBe(' Did you mean "front-load"?');
    expect(didYouMean("BELT-OFF-SPIN", WORDS)).toBe(' Did you mean "belt-off-spin"?');
  });

  it("offers nothing for another word, and does not work long on a long one", () => {
    expect(didYouMean("hovercraft", WORDS)).toBe("");
    expect(didYouMean("", WORDS)).toBe("");
    expect(didYouMean("x".repeat(1e7), WORDS)).toBe("");
  });
});
