import { describe, expect, it } from "vitest";
import type { HandTest } from "../../src/inspection/checks/hand-test.js";
import { weighFindings } from "../../src/inspection/checks/weigh-findings.js";
import type { Job } from "../../src/inspection/job/job.js";
import { addFinding, undoFinding } from "../../src/inspection/next-step/job-findings.js";
import { nextStep, planOf } from "../../src/inspection/next-step/next-step.js";
import { washerById } from "../../src/machine/washers.js";
import { CHECK_TITLES } from "../../src/report/html/check-titles.js";
import { nextCheckText } from "../../src/report/next-check-text.js";
import type { Component } from "../../src/machine/words.js";
import { jobOf } from "./job-of.js";

const at = "2026-03-01T09:30:00Z";

const found = (start: Job, ...told: string[]): Job =>
  told.reduce((now, finding) => addFinding(now, finding, at), start);

const unheard = ({ schema, machine, recordings, findings, readings }: Job): Job => ({
  schema,
  machine,
  recordings,
  findings,
  readings,
});

const step = (now: Job, audience?: "customer" | "technician" | "licensed") =>
  nextStep(now, washerById(now.machine.id!), audience ? { audience } : {});

const belted = jobOf("front-load-belt-universal", {
  "drum-bearing": 0.38,
  "drive-belt": 0.24,
  "motor-bearing": 0.12,
  "drum-spider": 0.08,
  normal: 0.05,
  other: 0.05,
});

const chance = (answer: ReturnType<typeof step>, component: Component): number =>
  answer.components.find((row) => row.component === component)!.probability;

describe("what is left to do before a price is said of a bearing", () => {
  const growling = jobOf("front-load-belt-universal", {
    "drum-bearing": 0.92,
    "drive-belt": 0.04,
    "drum-spider": 0.01,
    normal: 0.01,
    other: 0.02,
  });
  const rocked = step(found(growling, "drum-rock=fail"));

  it("is the test with the drive taken off, though play has already found the part", () => {
    expect(rocked.stop!.reason).toBe("found");
    expect(rocked.stop!.text).toMatch(/drum bearing.*before a price.*belt-off-spin/i);
  });

  it("is nothing once that test points at the bearing, too", () => {
    const both = step(found(growling, "drum-rock=fail", "belt-off-spin=noise"));
    expect(both.stop!.text).toMatch(/No further check is worth its minutes/);
  });

  it("never calls a chance certain that is not", () => {
    const both = step(found(growling, "drum-rock=fail", "belt-off-spin=noise"));
    expect(chance(both, "drum-bearing")).toBeLessThan(1);
    expect(both.stop!.text).not.toContain("100 %");
  });
});

describe("a finding's weight", () => {
  const rock: HandTest = {
    check: "rock",
    how: "rock it",
    minutes: 1,
    access: [],
    power: "unplugged",
    who: "technician",
    tools: [],
    cautions: ["unplug"],
    source: "made up for this test",
    provenance: "computed",
    outcomes: [
      { outcome: "pass", reads: "", points: [], source: "as above", provenance: "computed" },
      {
        outcome: "fail",
        reads: "",
        points: ["drum-bearing"],
        chance: { "drum-bearing": 0.7 },
        otherwise: 0.05,
        source: "as above",
        provenance: "computed",
      },
    ],
  };
  const before = (
    [
      ["drum-bearing", 0.45],
      ["drive-belt", 0.2],
      ["motor-bearing", 0.2],
      ["drain-pump", 0.1],
      ["other", 0.05],
    ] as const
  ).map(([component, probability]) => ({ component, probability }));

  it("is Bayes' rule: 0.45 of a bearing with play 0.7 against 0.05 becomes 0.9197, or 0.2053 without", () => {
    // 0.45·0.7 / (0.45·0.7 + 0.55·0.05) and 0.45·0.3 / (0.45·0.3 + 0.55·0.95), worked by hand
    const failed = weighFindings(before, [{ test: rock, outcome: rock.outcomes[1]! }]);
    expect(failed[0]).toMatchObject({ component: "drum-bearing" });
    expect(failed[0]!.probability).toBeCloseTo(0.9197, 4);
    const passed = weighFindings(before, [{ test: rock, outcome: rock.outcomes[0]! }]);
    const bearing = passed.find((row) => row.component === "drum-bearing")!;
    expect(bearing.probability).toBeCloseTo(0.2053, 4);
    expect(passed.reduce((sum, row) => sum + row.probability, 0)).toBeCloseTo(1, 12);
  });

  it("does not depend on the order in which findings came", () => {
    const told = ["drum-rock=pass", "belt-off-spin=quiet", "tub-bounce=pass"];
    const one = step(found(belted, ...told)).components;
    const other = step(found(belted, ...told.reverse())).components;
    one.forEach((row, i) => {
      expect(other[i]!.component).toBe(row.component);
      expect(other[i]!.probability).toBeCloseTo(row.probability, 10);
    });
  });
});

describe("findings move the ranking as the trade reads them", () => {
  it("belt off and quiet: the belt comes before the bearing (common practice)", () => {
    const answer = step(found(belted, "belt-off-spin=quiet"));
    expect(answer.components[0]!.component).toBe("drive-belt");
    expect(chance(answer, "drum-bearing")).toBeLessThan(0.1);
  });

  it("belt off and noise stays: drum bearing, not belt or motor (common practice)", () => {
    const answer = step(found(belted, "belt-off-spin=noise"));
    expect(answer.components[0]!.component).toBe("drum-bearing");
    expect(chance(answer, "drive-belt") + chance(answer, "motor-bearing")).toBeLessThan(0.05);
  });

  it("a thump that is gone with an empty drum was the load (common practice)", () => {
    const thumps = jobOf("top-load-belt", {
      suspension: 0.4,
      "unbalanced-load": 0.35,
      normal: 0.2,
    });
    const answer = step(found(thumps, "empty-spin=smooth"));
    expect(answer.components[0]!.component).toBe("unbalanced-load");
  });

  it("a tub that does not move at all means transport bolts (common practice)", () => {
    const fresh = jobOf("front-load-direct", {
      suspension: 0.6,
      "shipping-bolts": 0.1,
      normal: 0.3,
    });
    expect(step(found(fresh, "tub-bounce=stuck")).components[0]!.component).toBe("shipping-bolts");
  });
});

describe("next-check", () => {
  it("asks the cheap play test before anything is opened, then opens the belt's side", () => {
    const answer = step(belted);
    expect(answer.nextChecks[0]!.check).toBe("drum-rock");
    expect(answer.open!.end).toBe("rear");
    expect(answer.exact).toBe(true);
  });

  it("says on the screen why the cheap test comes before the one that decides", () => {
    const screen = nextCheckText(step(belted), { width: 1000 });
    expect(screen).toMatch(
      /Order +cheap looks come first; step \d, belt-off-spin, is what tells the drum bearing from the drive belt/,
    );
  });

  it("names every step on the screen in plain words with its minutes, and the word to tell it by", () => {
    const answer = step(belted);
    const screen = nextCheckText(answer, { width: 100 });
    const steps = answer.nextChecks.slice(0, 7);
    expect(steps.length).toBeGreaterThan(3);
    for (const { check, minutes } of steps) {
      const told = `${CHECK_TITLES[check]!} (${check}), ${Math.round(minutes)} min`;
      expect(screen.replace(/\s+/g, " ")).toContain(told);
    }
    expect(Math.max(...screen.split("\n").map((line) => line.length))).toBeLessThanOrEqual(100);
  });

  it("does what needs the belt off one after the other, and counts the opening once", () => {
    const answer = step(belted);
    const checks = answer.nextChecks.map((row) => row.check);
    const off = checks.indexOf("belt-off-spin");
    expect(checks.indexOf("motor-by-hand")).toBeGreaterThan(off);
    expect(answer.nextChecks[off]!.minutes).toBeGreaterThan(answer.nextChecks[off]!.ownMinutes);
    const later = answer.nextChecks.find((row) => row.check === "motor-by-hand")!;
    expect(later.minutes).toBe(later.ownMinutes);
    expect(later.opens).toEqual([]);
  });

  it("remembers after a finding what is open", () => {
    const answer = step(found(belted, "belt-off-spin=quiet"));
    const motor = answer.nextChecks.find((row) => row.check === "motor-by-hand")!;
    expect(motor.opens).toEqual([]);
  });

  it.each([
    ["top-load-belt", { "clutch-splines": 0.6, "drive-belt": 0.3 }, "underneath"],
    ["front-load-belt-bldc", { "drive-belt": 0.6, "drum-pulley": 0.3 }, "rear"],
    ["front-load-belt-bldc", { counterweight: 0.8, suspension: 0.1 }, "top"],
    ["front-load-direct", { "drain-pump": 0.7, normal: 0.2 }, "front"],
    ["front-load-direct", { "rotor-stator": 0.6, "drum-bearing": 0.3 }, "rear"],
  ] as const)("opens %s with %o at the %s (common practice)", (machine, chances, end) => {
    expect(step(jobOf(machine, chances)).open!.end).toBe(end);
  });

  it("stops when a finding has found the part, and says so", () => {
    const answer = step(found(belted, "drum-rock=fail", "belt-off-spin=noise"));
    expect(answer.stop?.reason).toBe("found");
    expect(answer.stop!.text).toMatch(/drum bearing/);
    expect(answer.nextChecks).toEqual([]);
  });

  it("never calls a part found from sound alone", () => {
    const loud = jobOf(
      "front-load-belt-universal",
      { "drum-bearing": 0.97, normal: 0.03 },
      "likely",
    );
    expect(step(loud).stop?.reason).not.toBe("found");
  });

  it("stops for a customer when nothing that is allowed can change the answer", () => {
    const sure = jobOf(
      "front-load-belt-universal",
      { "motor-bearing": 0.995, normal: 0.005 },
      "likely",
    );
    let now = sure;
    for (let i = 0; i < 12 && step(now, "customer").stop === null; i++) {
      const [first] = step(now, "customer").nextChecks;
      now = found(now, `${first!.check}=not-done`);
    }
    const { stop } = step(now, "customer");
    expect(["settled", "too-little"]).toContain(stop?.reason);
    expect(stop!.text).toMatch(/technician/);
  });

  it("gives a customer only customer's checks, and never an opened end", () => {
    const answer = step(belted, "customer");
    expect(answer.nextChecks.every((row) => row.audience === "customer")).toBe(true);
    expect(answer.nextChecks.flatMap((row) => row.opens.map((one) => one.access))).not.toContain(
      "drive-side",
    );
  });

  it("does not spin a machine whose drum may break loose, or that stands on its transport bolts", () => {
    const broken = jobOf("front-load-belt-universal", {
      "drum-spider": 0.5,
      suspension: 0.3,
      "unbalanced-load": 0.2,
    });
    const bolted = jobOf("front-load-direct", { "shipping-bolts": 0.5, "unbalanced-load": 0.4 });
    for (const one of [broken, bolted]) {
      for (const who of ["customer", "technician"] as const) {
        const checks = step(one, who).nextChecks.map((row) => row.check);
        expect(checks).not.toContain("empty-spin");
        expect(checks).not.toContain("stop-and-listen");
      }
      expect(step(one).cautions[0]).toMatch(/^Stop/);
    }
    const seen = step(found(bolted, "look-for-shipping-bolts=pass"));
    expect(seen.nextChecks.map((row) => row.check)).toContain("empty-spin");
  });

  it("keeps open live work for licensed people", () => {
    const motor = jobOf("front-load-belt-universal", {
      "motor-bearing": 0.5,
      "motor-brushes": 0.4,
    });
    const live = (who: "technician" | "licensed") =>
      step(motor, who).nextChecks.some((row) => row.power === "live");
    expect([live("technician"), live("licensed")]).toEqual([false, true]);
  });

  it("starts from how common faults are when the recordings gave no answer", () => {
    const lost = jobOf("front-load-direct", { "drum-bearing": 0.99 }, "record-again");
    const answer = step(lost);
    expect(answer.basis.from).toBe("prior");
    expect(chance(answer, "drum-bearing")).toBeLessThan(0.5);
    const fresh = unheard(lost);
    expect(step(fresh).components).toEqual(answer.components);
  });

  it("lists only parts that the machine has, whatever the diagnosis listed", () => {
    const wrong = jobOf("front-load-direct", { "drive-belt": 0.9, "drum-bearing": 0.1 });
    expect(step(wrong).components.map((row) => row.component)).not.toContain("drive-belt");
  });

  it("names the kind to be told when both kinds are possible", () => {
    expect(step({ ...belted, machine: { id: "unknown" } }).open!.text).toMatch(/--machine/);
  });

  it("leaves a plan that the job file can hold", () => {
    expect(planOf(step(belted), at)).toMatchObject({
      open: "rear",
      stop: null,
      audience: "technician",
    });
  });
});

describe("contradictions are said aloud", () => {
  it("when a finding speaks against what the sound favoured", () => {
    const { contradictions } = step(found(belted, "belt-off-spin=quiet"));
    expect(contradictions[0]!.between).toBe("sound-and-finding");
    expect(contradictions[0]!.text).toMatch(/drum bearing.*belt-off-spin=quiet/);
  });

  it("when a finding points at a part that the sound thought hardly possible", () => {
    const { contradictions } = step(found(belted, "tub-bounce=fail"));
    expect(contradictions.map((row) => row.text).join(" ")).toMatch(/tub-bounce=fail.*suspension/);
  });

  it("when two findings do not go together with one fault", () => {
    const { contradictions } = step(found(belted, "drum-rock=fail", "belt-off-spin=quiet"));
    expect(contradictions.find((row) => row.between === "two-findings")!.findings).toEqual([
      "drum-rock=fail",
      "belt-off-spin=quiet",
    ]);
  });

  it("when a finding points at a part that such a machine does not have", () => {
    const wrong = found(jobOf("front-load-direct", { "drum-bearing": 1 }), "belt-look=worn");
    const { contradictions, components } = step(wrong);
    expect(contradictions[0]!.between).toBe("machine-and-finding");
    expect(contradictions[0]!.text).toMatch(/drive belt.*--machine/);
    expect(components[0]!.component).toBe("drum-bearing");
  });

  it("and not when finding and sound agree, or when nothing was heard", () => {
    expect(step(found(belted, "drum-rock=fail", "belt-off-spin=noise")).contradictions).toEqual([]);
    expect(step(found(unheard(belted), "tub-bounce=fail")).contradictions).toEqual([]);
  });
});

describe("telling findings", () => {
  it("takes by-names, capitals and a note; a repeated check replaces its outcome but not the record", () => {
    const twice = found(
      belted,
      "Belt-Off-Hand-Spin=GONE",
      "belt-off-spin=noise:with the plug pulled",
    );
    expect(twice.findings).toEqual([
      { check: "belt-off-spin", outcome: "quiet", at },
      { check: "belt-off-spin", outcome: "noise", at, note: "with the plug pulled" },
    ]);
    const answer = step(twice);
    expect(answer.findings.map((row) => row.counts)).toEqual([false, true]);
    expect(chance(answer, "drum-bearing")).toBeCloseTo(
      chance(step(found(belted, "belt-off-spin=noise")), "drum-bearing"),
      12,
    );
  });

  it("lists the checks of the table for an unknown check, and the outcomes for an unknown outcome", () => {
    expect(() => found(belted, "drum-rok=fail")).toThrow(/must be one of .*drum-rock/);
    expect(() => found(belted, "drum-rock=purple")).toThrow(/pass, doubt, fail, not-done/);
    for (const told of ["drum-rock", "=fail", "drum-rock=", ""]) {
      expect(() => found(belted, told), told).toThrow(/CHECK=OUTCOME/);
    }
  });

  it("a check that could not be done teaches nothing and is not asked again", () => {
    const answer = step(found(belted, "drum-rock=not-done"));
    expect(answer.components.map((row) => row.probability)).toEqual(
      step(belted).components.map((row) => row.probability),
    );
    expect(answer.nextChecks.map((row) => row.check)).not.toContain("drum-rock");
  });

  it("takes the last one back, and says when there is none", () => {
    const { job: back, undone } = undoFinding(found(belted, "drum-rock=fail"));
    expect(back).toEqual(belted);
    expect(undone.check).toBe("drum-rock");
    expect(() => undoFinding(belted)).toThrow(/has none/);
  });

  it("refuses a job whose finding is not in the table, naming which", () => {
    const strange = { ...belted, findings: [{ check: "sniff", outcome: "bad", at }] };
    expect(() => step(strange)).toThrow(/findings\[0\].*sniff/);
  });
});
