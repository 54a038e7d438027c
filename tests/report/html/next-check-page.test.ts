import { describe, expect, it } from "vitest";
import { checkOutlooks } from "../../../src/answer/check-outlook.js";
import type { Audience } from "../../../src/inspection/checks/hand-test.js";
import { HAND_TESTS } from "../../../src/inspection/checks/hand-tests.js";
import { emptyJob, type Job } from "../../../src/inspection/job/job.js";
import { addFinding } from "../../../src/inspection/next-step/job-findings.js";
import { nextStep } from "../../../src/inspection/next-step/next-step.js";
import { visitOfJob } from "../../../src/inspection/parts/visit-of-job.js";
import { washerById } from "../../../src/machine/washers.js";
import { CHECK_TITLES } from "../../../src/report/html/check-titles.js";
import { nextCheckPage } from "../../../src/report/html/next-check-page.js";

const washer = washerById("front-load-belt-universal");

const heard: Job = {
  ...emptyJob(),
  machine: { ageYears: 6 },
  prices: { labourPerHour: 60, newMachine: 700 },
  diagnosis: {
    at: "2026-03-01T09:30:00Z",
    verdict: { label: "likely", text: "Most likely the drum bearing (60 %)." },
    character: "grinding",
    components: [
      { component: "drum-bearing", probability: 0.6 },
      { component: "motor-brushes", probability: 0.2 },
      { component: "normal", probability: 0.1 },
      { component: "other", probability: 0.1 },
    ],
  },
};

function made(job: Job, audience: Audience = "technician"): string {
  const answer = nextStep(job, washer, { audience });
  return nextCheckPage({
    answer,
    outlooks: checkOutlooks(job, washer, answer),
    visit: audience === "customer" ? null : visitOfJob(job, answer, washer),
    job: "jobs/kitchen.json",
  });
}

const text = (page: string): string =>
  page
    .replace(/<style>[\s\S]*?<\/style>/g, "")
    .replace(/<[^>]+>/g, " ")
    .replaceAll("&#39;", "'")
    .replace(/\s+/g, " ");

const found = (finding: string): Job => addFinding(heard, finding, "2026-03-01T10:00:00Z");

describe("the page of a plan", () => {
  it("serves the owner, the technician and the engineer, in this order", () => {
    const page = text(made(heard));
    const places = [
      "What will be done",
      "How long it takes",
      "Bring",
      "Check with",
      "Take care",
      "Check in this order",
      "Chance of each part in percent",
      "Worth it?",
      "minutes worked",
    ].map((word) => page.indexOf(word));
    expect(places.every((place) => place > 0)).toBe(true);
    expect([...places].sort((a, b) => a - b)).toEqual(places);
  });

  it("tells how, with what, and every outcome with what follows, for each check of the plan", () => {
    const answer = nextStep(heard, washer);
    const page = text(made(heard));
    for (const check of answer.nextChecks) {
      expect(page).toContain(CHECK_TITLES[check.check]);
      expect(page).toContain(check.text);
      for (const { outcome } of check.outcomes) expect(page).toContain(` ${outcome} `);
    }
    const steps = /<ol class="steps">[\s\S]*<\/ol>/.exec(made(heard))![0];
    expect(steps.match(/in 100 |of 100 such cases/g)!.length).toBeGreaterThan(6);
  });

  it("says stop, plans no check and sends nobody to look when the part is found", () => {
    const page = text(made(found("belt-off-spin=noise")));
    expect(page).toContain("Found: the drum bearing");
    expect(page).toContain("What it means");
    expect(page).not.toMatch(/Check in this order|Please prepare|What the outcomes do/);
  });

  it("shows what was found, notes as they were written, and where sound and hand disagree", () => {
    const page = made(found("belt-off-spin=quiet:<i>smooth</i> & silent"));
    expect(page).toContain("&lt;i&gt;smooth&lt;/i&gt; &amp; silent");
    expect(text(page)).toMatch(/These disagree .* drum bearing/);
  });

  it("gives a customer only what customers may do, and neither parts nor prices", () => {
    const page = text(made(heard, "customer"));
    expect(page).toContain("There is nothing more that you can check yourself.");
    expect(page).not.toMatch(/Bring|Worth it|belt-off-spin|licensed person only/);
  });

  it("gives every picture its numbers in words and in a table, and every axis its unit", () => {
    const figures = made(heard).match(/<figure[\s\S]*?<\/figure>/g)!;
    expect(figures.length).toBeGreaterThanOrEqual(4);
    for (const figure of figures) {
      expect(figure).toMatch(/<tbody>[\s\S]*?<th scope="row">/);
      const drawings = figure.match(/<svg\s[^>]*class="picture"[\s\S]*?<\/svg>/g)!;
      for (const drawing of drawings) {
        expect(drawing).toMatch(/aria-label="[^"]*\d+ %[^"]*"/);
        expect(drawing).toMatch(/class="unit"[^>]*>\s*(chance, %|minutes worked)/);
      }
    }
  });
});

describe("titles of hand tests", () => {
  it("stand for every test of the table and for nothing else, none of them twice", () => {
    expect(Object.keys(CHECK_TITLES).sort()).toEqual(HAND_TESTS.map(({ check }) => check).sort());
    expect(new Set(Object.values(CHECK_TITLES)).size).toBe(HAND_TESTS.length);
  });
});
