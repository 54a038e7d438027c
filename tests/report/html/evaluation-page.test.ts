import { describe, expect, it } from "vitest";
import type { Pair } from "../../../src/evaluation/pair.js";
import { evaluatePairs } from "../../../src/evaluation/scores.js";
import { evaluationText } from "../../../src/report/evaluation-text.js";
import { evaluationPage } from "../../../src/report/html/evaluation-page.js";

/** `count` washers in order, `wrong` of which are called faulty. */
const pairs = (count: number, wrong: number): Pair[] =>
  Array.from({ length: count }, (_, i) => ({
    truth: {
      schema: "washer-noise/truth@1" as const,
      file: `${i}.wav`,
      washer: true,
      faults: [],
      phase: "spin",
      machine: "front-load-direct",
    },
    answer: {
      verdict: i < wrong ? "likely" : "normal-sound",
      character: "none",
      components: [
        { component: i < wrong ? "drum-bearing" : "normal", probability: 0.7 },
        { component: i < wrong ? "normal" : "drum-bearing", probability: 0.3 },
      ],
      drumRpm: null,
    },
  }));

const textOf = (page: string): string =>
  page
    .replace(/<style>[\s\S]*?<\/style>|<[^>]+>/g, " ")
    .replaceAll("\u00a0", " ")
    .replace(/\s+/g, " ");

describe("the page of an evaluation", () => {
  it("says what the program was told, and what could not be scored", () => {
    const evaluation = evaluatePairs(pairs(3, 1));
    const text = textOf(evaluationPage(evaluation, { tell: "nothing", failed: 2 }));
    expect(text).toContain("told nothing but the recording");
    expect(text).toContain("2 recordings could not be scored and are not counted");
    expect(textOf(evaluationPage(evaluation))).not.toContain("could not be scored");
  });

  it("counts where cases are few and gives percent where they are many", () => {
    expect(textOf(evaluationPage(evaluatePairs(pairs(3, 1))))).toMatch(/normal 2 of 3/);
    expect(textOf(evaluationPage(evaluatePairs(pairs(40, 10))))).toMatch(/normal 75 % of 40/);
  });

  it("gives the exact end of an interval where none or all of the cases hit", () => {
    // Wilson's interval of 0 of n begins at 0 and that of n of n ends at 1 (Wilson 1927).
    const none = evaluatePairs(pairs(10, 0));
    expect(textOf(evaluationPage(none))).toMatch(
      /called faulty of washers in order; the lower, the better 0 % 0 to 28 % 10/,
    );
    expect(evaluationText(none)).toMatch(/normal machine called faulty +0\.0 % +\[0\.0 %/);
    for (let n = 1; n < 40; n++) {
      const text = `${textOf(evaluationPage(evaluatePairs(pairs(n, 0))))}${evaluationText(evaluatePairs(pairs(n, 0)))}`;
      expect(text, String(n)).not.toMatch(/<1 to|<0\.1|>99/);
    }
  });
});
