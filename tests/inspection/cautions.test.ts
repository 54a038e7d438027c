import { describe, expect, it } from "vitest";
import { cautionsFor } from "../../src/inspection/cautions.js";
import type { Job } from "../../src/inspection/job/job.js";
import { addFinding } from "../../src/inspection/next-step/job-findings.js";
import { nextStep } from "../../src/inspection/next-step/next-step.js";
import { stopText } from "../../src/inspection/next-step/next-step-wording.js";
import { nextChecksFor } from "../../src/inspection/next-checks.js";
import type { PartChance } from "../../src/inspection/checks/weigh-findings.js";
import { actionFor } from "../../src/inspection/urgency/urgency-action.js";
import { washerById } from "../../src/machine/washers.js";
import type { MachineId } from "../../src/machine/words.js";
import { jobOf } from "./job-of.js";

const bearing: readonly PartChance[] = [
  { component: "drum-bearing", probability: 0.9 },
  { component: "drive-belt", probability: 0.05 },
  { component: "drum-spider", probability: 0.03 },
  { component: "rotor-stator", probability: 0.01 },
  { component: "normal", probability: 0.01 },
];

const found = (start: Job, told: string): Job => addFinding(start, told, "2026-03-01T09:40:00Z");

describe("warnings of a diagnosis", () => {
  it("go with the checks it advises, not with the likely parts alone", () => {
    const checks = nextChecksFor(bearing, "likely");
    expect(checks.map(({ check }) => check)).toContain("belt-off-spin");
    const told = cautionsFor(bearing, "likely", checks).join(" ");
    // Common practice, no source: what can hurt whoever pulls the machine out and takes its belt off.
    for (const rule of [/pull the plug/, /Belt and pulley pinch/, /two people/, /wear gloves/]) {
      expect(told).toMatch(rule);
    }
    // A front loader is not tipped for it.
    expect(told).not.toMatch(/tipping/);
  });
});

describe("a check for which the machine runs", () => {
  it("comes with what to mind while it runs, for the customer and on the support desk", () => {
    const pump: readonly PartChance[] = [
      { component: "drain-pump", probability: 0.45 },
      { component: "motor-bearing", probability: 0.3 },
      { component: "normal", probability: 0.01 },
    ];
    const checks = [{ check: "drain-only" }];
    expect(cautionsFor(pump, "shortlist", checks).join(" ")).toMatch(/While it runs: stand clear/);
    const action = actionFor({
      components: pump,
      verdict: { label: "shortlist", text: "In question." },
      nextChecks: [],
      washer: washerById("front-load-belt-universal"),
      urgency: { label: "routine", reasons: [] },
    });
    expect(action.label).toBe("customer-check");
    expect(action.text).toMatch(/While it runs: stand clear.*burning smell/);
  });
});

describe("a machine that must not run, of which another recording is wanted", () => {
  it("is not run for the recording before somebody has looked", () => {
    const spider: readonly PartChance[] = [
      { component: "drum-spider", probability: 0.35 },
      { component: "normal", probability: 0.1 },
    ];
    const [stop, wait] = cautionsFor(spider, "record-again");
    expect(stop).toMatch(/^Stop using the machine/);
    expect(wait).toMatch(/recording has to wait/);
    expect(cautionsFor(spider, "shortlist").join(" ")).not.toMatch(/recording has to wait/);
    // With a bearing, running it once more is not forbidden.
    expect(cautionsFor(bearing, "record-again").join(" ")).not.toMatch(/recording has to wait/);
  });

  it("is not recorded either where a plan has come to its end", () => {
    const facts = {
      parts: [{ component: "drum-spider" as const, probability: 0.8 }],
      audience: "technician" as const,
      beforeQuote: [],
    };
    expect(stopText("settled", { ...facts, safeToRun: false })).toMatch(/Do not run the machine/);
    expect(stopText("settled", { ...facts, safeToRun: true })).toMatch(/Record again/);
  });
});

describe("a plan that has found the part", () => {
  const answer = nextStep(
    found(
      jobOf("front-load", { "drum-bearing": 0.9, "motor-brushes": 0.1 }, "likely"),
      "drum-rock=fail",
    ),
    washerById("front-load"),
  );

  it("says how the check is done that is left before a price, and what to mind", () => {
    expect(answer.stop).toMatchObject({ reason: "found" });
    expect(answer.stop!.text).toMatch(
      /unplugged\. On a belt drive: take the belt off .*\(belt-off-spin\)\. On a direct/,
    );
    const told = answer.cautions.join(" ");
    for (const rule of [/Pull the plug/, /pinch/, /two people/]) expect(told).toMatch(rule);
  });
});

describe("a check that only one kind of drive has", () => {
  const howOf = (machine: MachineId): string => {
    const { nextChecks } = nextStep(
      jobOf(machine, { "drum-bearing": 0.6, "motor-bearing": 0.3 }, "likely"),
      washerById(machine),
    );
    return nextChecks.find(({ check }) => check === "belt-off-spin")!.text;
  };

  it("says so where the drive is not known, and only there", () => {
    expect(howOf("front-load")).toMatch(/^On a belt drive: take the belt off/);
    expect(howOf("front-load-belt-universal")).toMatch(/^Take the belt off/);
  });
});
