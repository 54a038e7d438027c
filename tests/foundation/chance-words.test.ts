import { describe, expect, it } from "vitest";
import {
  chanceInWords,
  hundredFigure,
  hundredInWords,
  percent,
  roundedChance,
} from "../../src/foundation/chance-words.js";

describe("a chance in words", () => {
  it("is a whole number of a hundred where that says enough", () => {
    expect([percent(0.374), chanceInWords(0.375), hundredInWords(0.5)]).toEqual([
      "37 %",
      "38 %",
      "50",
    ]);
  });

  it("never reads certain or impossible unless it is", () => {
    const doubtful = [1e-9, 0.0004, 0.0049, 0.005, 0.9949, 0.995, 0.9996, 1 - 1e-9];
    for (const chance of doubtful) {
      const said = [
        percent(chance),
        chanceInWords(chance),
        hundredInWords(chance),
        hundredFigure(chance),
        hundredFigure(chance, 1),
      ];
      for (const words of said) expect(words).not.toMatch(/^(0|100)(\.0)?( %)?$/);
      expect([0, 1]).not.toContain(roundedChance(chance, 3));
    }
    expect([percent(0.001), percent(0.998)]).toEqual(["<1 %", ">99 %"]);
    expect([chanceInWords(0.001), chanceInWords(0.998)]).toEqual(["under 1 %", "over 99 %"]);
    expect([hundredFigure(0.0001, 1), hundredFigure(0.9999, 1)]).toEqual(["<0.1", ">99.9"]);
    expect([roundedChance(0.00001, 3), roundedChance(0.99999, 3)]).toEqual([0.001, 0.999]);
  });

  it("reads 0 and 100 where a share is exactly that", () => {
    expect([percent(0), percent(1), chanceInWords(1), hundredFigure(1, 1)]).toEqual([
      "0 %",
      "100 %",
      "100 %",
      "100.0",
    ]);
    expect([roundedChance(0, 3), roundedChance(1, 3), roundedChance(0.1234, 3)]).toEqual([
      0, 1, 0.123,
    ]);
  });
});
