import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { diagnose } from "../../src/diagnosis/diagnose.js";
import { RULES } from "../../src/diagnosis/rules.js";
import { CHARACTER_LIKELIHOOD } from "../../src/diagnosis/data/character-likelihood.data.js";
import { LEARNED } from "../../src/diagnosis/data/learned.data.js";
import { PHASE_LIKELIHOOD } from "../../src/diagnosis/data/phase-likelihood.data.js";
import { FEATURES } from "../../src/evidence/features.data.js";
import { washerById } from "../../src/machine/washers.js";
import { COMPONENTS, MACHINE_IDS, PHASES, type Phase } from "../../src/machine/words.js";
import type { RecordingProblem } from "../../src/recording/recording.js";
import { goodRecording, grinding, makeEvidence, quiet } from "./make-evidence.js";

const told = { machine: true, phase: true, speed: false };

describe("diagnose(evidence)", () => {
  it("gives chances that sum to one, sorted, with normal and other in them, for any evidence", () => {
    const evidence = fc.record({
      machine: fc.constantFrom(...MACHINE_IDS),
      phase: fc.constantFrom(...PHASES),
      values: fc.dictionary(
        fc.constantFrom(...FEATURES.filter((row) => row.unit !== "p").map((row) => row.id)),
        fc.double({ min: -50, max: 50, noNaN: true }),
      ),
    });
    fc.assert(
      fc.property(evidence, ({ machine, phase, values }) => {
        const { components } = diagnose({
          clips: [{ recording: goodRecording, evidence: makeEvidence(phase, values) }],
          washer: washerById(machine),
          circumstances: {},
          told,
        });
        const sum = components.reduce((total, row) => total + row.probability, 0);
        expect(sum).toBeCloseTo(1, 9);
        const names = components.map((row) => row.component);
        expect(names).toEqual(expect.arrayContaining(["normal", "other"]));
        const chances = components.map((row) => row.probability);
        expect(chances).toEqual([...chances].sort((a, b) => b - a));
      }),
      { numRuns: 60 },
    );
  });

  it("never names a part that the machine does not have", () => {
    const { components } = diagnose({
      clips: [{ recording: goodRecording, evidence: makeEvidence("spin", grinding) }],
      washer: washerById("front-load-direct"),
      circumstances: {},
      told,
    });
    const names = components.map((row) => row.component);
    for (const absent of ["drive-belt", "motor-brushes", "gear-case", "motor-coupling"]) {
      expect(names).not.toContain(absent);
    }
  });

  it("asks for another recording, with the reason, when every recording is blocked", () => {
    const problem: RecordingProblem = {
      code: "silent",
      message: "Nothing is heard.",
      severity: "blocks",
    };
    const { verdict } = diagnose({
      clips: [
        {
          recording: { ...goodRecording, problems: [problem] },
          evidence: makeEvidence("spin", grinding),
        },
      ],
      washer: washerById("unknown"),
      circumstances: {},
      told,
    });
    expect(verdict).toEqual({ label: "record-again", text: "Nothing is heard." });
  });

  it("says that no washer is heard when nothing speaks for a machine and nothing was told", () => {
    const { verdict } = diagnose({
      clips: [
        {
          recording: goodRecording,
          evidence: makeEvidence("unknown", { ...quiet, "machine-likeness": -4 }),
        },
      ],
      washer: washerById("unknown"),
      circumstances: {},
      told: { machine: false, phase: false, speed: false },
    });
    expect(verdict.label).toBe("not-a-washer");
  });

  it("makes a normal sound likelier in a new machine than in an old one", () => {
    const chance = (ageYears: number): number =>
      diagnose({
        clips: [{ recording: goodRecording, evidence: makeEvidence("spin", quiet) }],
        washer: washerById("front-load"),
        circumstances: { ageYears },
        told,
      }).components.find((row) => row.component === "normal")!.probability;
    expect(chance(0.5)).toBeGreaterThan(chance(10));
  });

  it("tells a bearing's rate with the figures heard", () => {
    const { components } = diagnose({
      clips: [
        {
          recording: goodRecording,
          evidence: makeEvidence(
            "spin",
            { ...grinding, "line-drum-bearing": 1e-6 },
            {
              "line-drum-bearing": {
                perTurn: 5.4,
                hz: 67.5,
                rpm: 750,
                label: "drum bearing, inner race, 9 balls",
              },
            },
          ),
        },
      ],
      washer: washerById("front-load-belt-universal"),
      circumstances: {},
      told,
    });
    const row = components.find((one) => one.component === "drum-bearing")!;
    const text = row.for.map((reason) => reason.text).join(" ");
    expect(text).toContain("5.4 times per drum turn");
    expect(text).toContain("750 rpm");
    expect(text).toContain("inner race, 9 balls");
    expect(row.for.every((reason) => reason.source !== "" && reason.weight > 0)).toBe(true);
  });
});

describe("the rule table", () => {
  it("has unique ids, a source on every row, and reads features of the catalogue", () => {
    expect(new Set(RULES.map((rule) => rule.id)).size).toBe(RULES.length);
    const known = FEATURES.map((row) => row.id);
    for (const rule of RULES) {
      expect(rule.source).not.toBe("");
      expect(known).toContain(rule.feature);
      const weights = [...Object.values(rule.present), ...Object.values(rule.absent ?? {})];
      expect(Math.max(...weights.map(Math.abs))).toBeLessThanOrEqual(2.5);
    }
  });

  it("moves no weight by more than one nat from the expert's", () => {
    expect(Math.max(0, ...Object.values(LEARNED).map(Math.abs))).toBeLessThanOrEqual(1);
  });

  it("covers every component with a phase row and a sound row whose shares sum to one", () => {
    expect(PHASE_LIKELIHOOD.map((row) => row.component).sort()).toEqual([...COMPONENTS].sort());
    expect(CHARACTER_LIKELIHOOD.map((row) => row.component).sort()).toEqual([...COMPONENTS].sort());
    for (const { sounds } of CHARACTER_LIKELIHOOD) {
      expect(Object.values(sounds).reduce((a, b) => a + b, 0)).toBeCloseTo(1, 6);
    }
    const phases: Phase[] = ["fill", "wash", "drain", "spin", "coast", "hand-spin"];
    for (const { audible } of PHASE_LIKELIHOOD) {
      for (const phase of phases) {
        const p = audible[phase as Exclude<Phase, "unknown">];
        expect(p >= 0 && p <= 1).toBe(true);
      }
    }
  });
});
