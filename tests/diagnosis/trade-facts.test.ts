import { describe, expect, it } from "vitest";
import { diagnose, type Diagnosis } from "../../src/diagnosis/diagnose.js";
import type { Evidence } from "../../src/evidence/evidence.js";
import { washerById } from "../../src/machine/washers.js";
import type { Component, MachineId } from "../../src/machine/words.js";
import { nextChecksFor } from "../../src/inspection/next-checks.js";
import { goodRecording, grinding, makeEvidence, quiet, thumping } from "./make-evidence.js";

const answer = (machine: MachineId, ...evidence: readonly Evidence[]): Diagnosis =>
  diagnose({
    clips: evidence.map((one) => ({ recording: goodRecording, evidence: one })),
    washer: washerById(machine),
    circumstances: {},
    told: { machine: true, phase: true, speed: false },
  });

const chance = (diagnosis: Diagnosis, component: Component): number =>
  diagnosis.components.find((row) => row.component === component)?.probability ?? 0;

const best = (diagnosis: Diagnosis, ...components: readonly Component[]): number =>
  Math.max(...components.map((component) => chance(diagnosis, component)));

// Every claim here is common practice in the repair trade, no source.
describe("diagnose, against facts of the trade (common practice, no source)", () => {
  it("a bump once a drum turn puts suspension and balance ahead of the drive", () => {
    const found = answer("front-load-belt-universal", makeEvidence("spin", thumping));
    expect(found.character.label).toBe("thumping");
    const shaking = best(found, "suspension", "unbalanced-load", "counterweight", "shipping-bolts");
    const drive = best(found, "motor-bearing", "motor-brushes", "motor-pulley", "drive-belt");
    expect(shaking).toBeGreaterThan(2 * drive);
  });

  it("grinding in the wash that is gone in the spin of a shifter machine accuses clutch and gear case", () => {
    const found = answer(
      "top-load-belt",
      makeEvidence("wash", { ...grinding, "stroke-growl": 5 }),
      makeEvidence("spin", quiet),
    );
    expect(best(found, "gear-case", "clutch-splines")).toBeGreaterThan(
      chance(found, "drum-bearing"),
    );
  });

  it("and grinding in the spin that is gone in the wash accuses the drum bearing", () => {
    const found = answer(
      "top-load-belt",
      makeEvidence("wash", { ...quiet, "stroke-growl": 0 }),
      makeEvidence("spin", grinding),
    );
    expect(chance(found, "drum-bearing")).toBeGreaterThan(
      best(found, "gear-case", "clutch-splines"),
    );
  });

  it("a noise in the drain alone is the pump's", () => {
    const found = answer(
      "front-load-belt-universal",
      makeEvidence("drain", { ...grinding, "pump-knock": 2, "mains-share": 0.4, "mains-comb": 20 }),
      makeEvidence("spin", quiet),
    );
    expect(found.components[0]!.component).toBe("drain-pump");
  });

  it("a noise that dies with the power is electrical or the pump's", () => {
    const found = answer(
      "front-load-belt-universal",
      makeEvidence("spin", { ...grinding, "noise-stops-with-power": 1e-6 }),
    );
    const falling = answer(
      "front-load-belt-universal",
      makeEvidence("spin", { ...grinding, "noise-falls-with-drum": 1e-6 }),
    );
    expect(best(found, "drain-pump", "controls", "motor-brushes")).toBeGreaterThan(
      chance(found, "drum-bearing"),
    );
    expect(chance(falling, "drum-bearing")).toBeGreaterThan(
      best(falling, "drain-pump", "controls", "motor-brushes"),
    );
  });

  it("a squeal of fixed pitch at the start is the belt's", () => {
    const found = answer(
      "front-load-belt-universal",
      makeEvidence("spin", {
        ...quiet,
        "squeal-swing": 32,
        "squeal-prominence": 38,
        "squeal-fixed-pitch": 1,
        "squeal-at-start": 0.9,
        "squeal-at-slowing": 0,
        "tone-prominence": 4,
      }),
    );
    expect(found.character.label).toBe("squealing");
    expect(found.components[0]!.component).toBe("drive-belt");
  });

  it("between a bearing and what sounds like one, the belt-off hand spin is asked first", () => {
    const rows = (first: Component, second: Component) =>
      [first, second].map((component, i) => ({
        component,
        probability: 0.5 - 0.1 * i,
        for: [],
        against: [],
      }));
    for (const other of ["drive-belt", "clutch-splines", "motor-bearing"] as const) {
      expect(nextChecksFor(rows("drum-bearing", other), "shortlist")[0]!.check).toBe(
        "belt-off-spin",
      );
      expect(nextChecksFor(rows(other, "drum-bearing"), "shortlist")[0]!.check).toBe(
        "belt-off-spin",
      );
    }
  });

  it("a quiet machine in order is called a normal sound, with no part sold", () => {
    const found = answer("front-load-belt-universal", makeEvidence("spin", quiet));
    expect(found.components[0]!.component).toBe("normal");
    expect(found.verdict.label).toBe("normal-sound");
  });
});
