// A screen explains its own signs: a reader has no manual at the machine.
import { describe, expect, it } from "vitest";
import { judgeReading } from "../../src/inspection/meter/judge-reading.js";
import { emptyJob, type Job } from "../../src/inspection/job/job.js";
import { addFinding } from "../../src/inspection/next-step/job-findings.js";
import { nextStep } from "../../src/inspection/next-step/next-step.js";
import { visitOfJob } from "../../src/inspection/parts/visit-of-job.js";
import { washerById } from "../../src/machine/washers.js";
import { figuresText } from "../../src/report/figures-text.js";
import { meterText } from "../../src/report/meter-text.js";
import { visitLines } from "../../src/report/visit-text.js";

describe("the bar of meterText", () => {
  const lines = (reading: string): string[] =>
    meterText(judgeReading({ part: "drain-pump", readings: [reading], printed: "5700" }), {
      width: 80,
    }).split("\n");

  it("tells what each of its marks means, and of none that it does not hold", () => {
    const near = lines("5400");
    const bar = near.findIndex((line) => /^\s+-*\[.*o.*\]-*$/.test(line));
    expect(bar).toBeGreaterThan(0);
    const legend = near.slice(bar + 1, bar + 3).join(" ");
    expect(legend).toMatch(/\[ \] limits/);
    expect(legend).toMatch(/o the reading/);
    expect(legend).not.toMatch(/off the scale/);
    expect(lines("90").join(" ")).toMatch(/< the reading, off the scale/);
  });
});

describe("the figures of --verbose", () => {
  it("end with what trust, p, Holm and order mean", () => {
    const legend = figuresText([]);
    for (const sign of ["trust", "p ", "Holm", "order", "missing", "undetermined"]) {
      expect(legend).toMatch(new RegExp(`^ .*${sign}`, "m"));
    }
    for (const line of legend.split("\n")) expect(line.length).toBeLessThanOrEqual(100);
  });
});

describe("whether mending pays, once the part is found", () => {
  const washer = washerById("front-load-belt-universal");
  const heard: Job = {
    ...emptyJob(),
    diagnosis: {
      at: "2026-03-01T09:30:00Z",
      verdict: { label: "likely", text: "Most likely the drum bearing (60 %)." },
      character: "grinding",
      components: [
        { component: "drum-bearing", probability: 0.6 },
        { component: "normal", probability: 0.2 },
        { component: "other", probability: 0.2 },
      ],
    },
  };

  it("asks for the prices instead of calling it not settled", () => {
    const job = addFinding(heard, "belt-off-spin=noise", "2026-03-01T10:00:00Z");
    const visit = visitOfJob(job, nextStep(job, washer), washer);
    const text = visitLines(visit!, 100).join(" ").replace(/\s+/g, " ");
    expect(text).toMatch(
      /drum bearing \(found by hand\): not worked out yet; tell --labour-per-hour/,
    );
    expect(text).not.toMatch(/found by hand\): not settled/);
  });
});
