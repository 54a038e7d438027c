import { describe, expect, it } from "vitest";
import { checkOutlooks } from "../../src/answer/check-outlook.js";
import { emptyJob, type Job } from "../../src/inspection/job/job.js";
import { nextStep } from "../../src/inspection/next-step/next-step.js";
import { visitOfJob } from "../../src/inspection/parts/visit-of-job.js";
import { washerById } from "../../src/machine/washers.js";
import { comparedFigure } from "../../src/report/compared-figure.js";
import { nextCheckPage } from "../../src/report/html/next-check-page.js";
import { nextCheckText } from "../../src/report/next-check-text.js";
import { rankingPicture } from "../../src/report/picture/ranking-picture.js";
import {
  sharesKey,
  sharesPicture,
  type ShareCell,
} from "../../src/report/picture/shares-picture.js";

const ID = "front-load-belt-universal";
const washer = washerById(ID);

const job: Job = {
  ...emptyJob(),
  machine: { id: ID, ageYears: 6 },
  diagnosis: {
    at: "2026-03-01T09:30:00Z",
    verdict: { label: "likely", text: "As heard." },
    character: "grinding",
    components: [
      { component: "drum-bearing", probability: 0.8 },
      { component: "motor-brushes", probability: 0.1 },
      { component: "normal", probability: 0.05 },
      { component: "other", probability: 0.05 },
    ],
  },
};

/** The first row nearly certain, all others nearly impossible. */
const leaning = <Row extends { readonly probability: number }>(
  rows: readonly Row[],
  chance: number,
): Row[] =>
  rows.map((row, i) => ({
    ...row,
    probability: i === 0 ? chance : (1 - chance) / (rows.length - 1),
  }));

const plain = (page: string): string =>
  page
    .replace(/<style>[\s\S]*?<\/style>/g, "")
    .replaceAll("&lt;", "<")
    .replace(/<\/?[a-z][^>]*>/g, " ")
    .replace(/\s+/g, " ");

/** "100 %", "0 %", "100 in 100", "In 0 of 100"; not "over 99 %", "10 %", or the "0 … 100" of an axis. */
const CERTAIN = /(?<![\d.,<>])(?:100|0) ?(?:%|in 100|of 100)/;

describe("a chance that is nearly, not quite, certain", () => {
  it("is called certain nowhere on the screen and page of a plan", () => {
    for (const chance of [0.996, 0.9999]) {
      const step = nextStep(job, washer);
      const answer = {
        ...step,
        components: leaning(step.components, chance),
        nextChecks: step.nextChecks.map((check) => ({ ...check, foundBy: chance })),
      };
      const outlooks = checkOutlooks(job, washer, step).map((outlook) => ({
        ...outlook,
        outcomes: outlook.outcomes.map((row, i) => ({
          ...row,
          chance: i === 0 ? chance : 1 - chance,
          parts: leaning(row.parts, chance),
        })),
      }));
      const visit = visitOfJob(job, step, washer);
      const page = nextCheckPage({ answer, outlooks, visit, job: "kitchen.json" });
      const screen = nextCheckText(answer);
      expect(screen).toContain(">99 %");
      expect(plain(page)).toMatch(/over 99/);
      expect(plain(page)).not.toMatch(CERTAIN);
      expect(screen).not.toMatch(CERTAIN);
    }
  });

  it("is not drawn as a hundred of a hundred, nor the rest as none", () => {
    const cells: ShareCell[] = [
      { name: "drum bearing", chance: 0.997, look: "share-1" },
      { name: "22 others together", chance: 0.003, look: "share-rest" },
    ];
    const said = plain(sharesKey(cells).source);
    expect(said).toContain("drum bearing, over 99 in 100");
    expect(said).toContain("22 others together, under 1 in 100");
    expect(sharesPicture(cells, 600).source).toContain("over 99");
    const bars = [{ name: "drum bearing", chance: 0.997, low: 0.9, high: 0.999 }];
    const drawn = rankingPicture(bars, 600, { size: 1, cover: 0.998 }).source;
    expect(drawn).toContain("in over 99 of 100 cases");
    expect(drawn).not.toMatch(CERTAIN);
  });

  it("is not rounded onto its end in a comparison either", () => {
    expect(comparedFigure(0.997, "share")).toBe(">0.99");
    expect(comparedFigure(3e-11, "p")).toBe("<0.001");
    expect(comparedFigure(1, "share")).toBe("1.00");
    expect(comparedFigure(0, "p")).toBe("0.00");
    // A ratio may well be one; large figures need no digits behind the point.
    expect(comparedFigure(0.999, "ratio")).toBe("1.00");
    expect(comparedFigure(2326.75, "Hz")).toBe("2327");
  });
});
