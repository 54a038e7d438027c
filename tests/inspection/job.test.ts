import { describe, expect, it } from "vitest";
import { WasherNoiseError } from "../../src/foundation/errors.js";
import { emptyJob, jobText, type Job } from "../../src/inspection/job/job.js";
import { parseJob, parseJobText } from "../../src/inspection/job/parse-job.js";

const at = "2026-03-01T09:30:00Z";

const full: Job = {
  schema: "washer-noise/job@1",
  machine: { id: "front-load-belt-universal", ageYears: 9, lineHz: 50 },
  complaint: { text: "roars in the spin", answers: { since: "months", leak: false } },
  recordings: [{ file: "spin.m4a", sha256: "0".repeat(64), phase: "spin", durationSeconds: 21.5 }],
  diagnosis: {
    at,
    verdict: { label: "shortlist", text: "Bearing or belt." },
    character: "grinding",
    components: [
      { component: "drum-bearing", probability: 0.5, condition: "late wear" },
      { component: "drive-belt", probability: 0.5 },
    ],
  },
  findings: [{ check: "drum-rock", outcome: "fail", at, note: "3 mm" }],
  readings: [
    {
      at,
      part: "shift-actuator",
      readings: ["5600"],
      printed: "5700",
      verdict: "pass",
      text: "5600 Ω lies within the limits.",
    },
  ],
  prices: { currency: "EUR", newMachine: 600 },
  plan: { at, audience: "technician", open: "rear", stop: null, checks: ["belt-off-spin"] },
  after: { note: "quiet" },
};

function refusal(json: unknown): WasherNoiseError {
  try {
    parseJob(json, "job.json");
  } catch (error) {
    if (error instanceof WasherNoiseError) return error;
    throw error;
  }
  throw new Error("was not refused");
}

describe("the job file", () => {
  it("comes back from its text as it went in, every section", () => {
    expect(parseJobText(jobText(full), "job.json")).toEqual(full);
    expect(parseJobText(`\uFEFF${jobText(full)}`, "job.json")).toEqual(full);
  });

  it("stands in one order whatever the order it was put together in, and ends its last line", () => {
    const shuffled = Object.fromEntries(Object.entries(full).reverse()) as Job;
    expect(jobText(shuffled)).toBe(jobText(full));
    expect(jobText(full).endsWith("}\n")).toBe(true);
  });

  it("changes only the lines of a finding when a finding is added", () => {
    const before = new Set(jobText(full).split("\n"));
    const more = { ...full, findings: [...full.findings, { check: "x", outcome: "pass", at }] };
    const added = jobText(more)
      .split("\n")
      .filter((line) => !before.has(line));
    // "},", check, outcome; the `at` line stands there already, with a comma or without
    expect(added.length).toBeLessThanOrEqual(4);
  });

  it("takes over a file of version 0: machine, clips, ranking and findings find their places", () => {
    const old = {
      schema: "washer-noise/job@0",
      machine: "front-load-direct",
      ageYears: 4,
      complaint: "scrapes",
      clips: [{ file: "a.wav", sha256: "a".repeat(64), phase: "spin", durationSeconds: 20 }],
      verdict: { label: "likely", text: "Most likely the rotor." },
      character: "rattling",
      components: [{ component: "rotor-stator", probability: 0.7 }],
      findings: { "rotor-off": "fail", "drum-rock": "pass" },
      savedAt: at,
    };
    expect(parseJob(old, "old.json")).toEqual({
      schema: "washer-noise/job@1",
      machine: { id: "front-load-direct", ageYears: 4 },
      complaint: { text: "scrapes" },
      recordings: old.clips,
      diagnosis: {
        at,
        verdict: old.verdict,
        character: "rattling",
        components: old.components,
      },
      findings: [
        { check: "rotor-off", outcome: "fail", at },
        { check: "drum-rock", outcome: "pass", at },
      ],
      readings: [],
    });
    const onFile = { schema: "washer-noise/job@0", machine: "kitchen.json" };
    expect(parseJob(onFile, "old.json").machine).toEqual({ file: "kitchen.json" });
  });

  it("refuses a newer version and says what to do", () => {
    const error = refusal({ ...full, schema: "washer-noise/job@2" });
    expect(error.code).toBe("job-file-invalid");
    expect(error.message).toMatch(/version 2.*newer washer-noise.*left as it is/);
  });

  it.each([
    [{ ...full, schema: "washer-noise/diagnosis@1" }, "schema"],
    [{ ...full, machine: { id: "sofa" } }, "machine.id"],
    [{ ...full, recordings: [{ ...full.recordings[0], sha256: "12" }] }, "recordings[0].sha256"],
    [
      { ...full, findings: [{ check: "drum-rock", outcome: "fail", at: "today" }] },
      "findings[0].at",
    ],
    [{ ...full, readings: undefined }, "readings"],
    [
      {
        ...full,
        diagnosis: {
          ...full.diagnosis,
          components: [{ component: "drum-bearing", probability: 2 }],
        },
      },
      "diagnosis.components[0].probability",
    ],
    [{ ...full, machine: { ageYears: -1 } }, "machine.ageYears"],
    [null, "schema"],
    [[], "schema"],
  ])("refuses a damaged file and names the field (%#)", (json, field) => {
    const error = refusal(json);
    expect(error.facts["field"]).toBe(field);
    expect(error.message).toContain("job.json");
    expect(error.message).toContain(field);
  });

  it("names an unknown field rather than dropping it in silence", () => {
    expect(refusal({ ...full, finding: [] }).message).toContain('"finding"');
  });

  it.each(["", "   ", "{", '{"schema": "washer-noise/job@1"', "\u0000\u0001"])(
    "refuses text that is not JSON: %j",
    (text) => {
      expect(() => parseJobText(text, "job.json")).toThrow(/not JSON/);
    },
  );

  it("a job about which nothing is known is a valid file", () => {
    expect(parseJobText(jobText(emptyJob()), "job.json")).toEqual(emptyJob());
  });
});
