import { describe, expect, it } from "vitest";
import { whereOnePhaseWasChosen } from "../../src/diagnosis/chosen-phase.js";
import { priorOf } from "../../src/diagnosis/prior.js";
import { rankComponents } from "../../src/diagnosis/ranking.js";
import { hearClip, viewsOf } from "../../src/diagnosis/view.js";
import { washerById } from "../../src/machine/washers.js";
import { MACHINE_IDS, type Component } from "../../src/machine/words.js";
import { makeEvidence } from "./make-evidence.js";

describe("the phase that somebody chose to record", () => {
  it("says which part, not whether anything is wrong", () => {
    for (const id of MACHINE_IDS) {
      const washer = washerById(id);
      const usual = priorOf(washer, {});
      const chosen = whereOnePhaseWasChosen(usual, washer);
      const sum = [...chosen.values()].reduce((total, chance) => total + chance, 0);
      expect(sum).toBeCloseTo(1, 9);
      expect(chosen.get("normal")).toBe(usual.get("normal"));
      expect(chosen.get("other")).toBe(usual.get("other"));
    }
  });

  it("favours a part that is heard in few phases over one that is heard in most", () => {
    // Common practice, no source: a valve is heard in the fill alone, a drum bearing whenever the drum turns.
    const washer = washerById("front-load-direct");
    const usual = priorOf(washer, {});
    const chosen = whereOnePhaseWasChosen(usual, washer);
    const gain = (part: Component): number => chosen.get(part)! / usual.get(part)!;
    expect(gain("inlet-valve")).toBeGreaterThan(2 * gain("drum-bearing"));
    expect(gain("drain-pump")).toBeGreaterThan(gain("drum-bearing"));
  });

  it("counts where one phase was recorded, not where several were asked for", () => {
    const washer = washerById("front-load-direct");
    const fill = hearClip(makeEvidence("fill", {}));
    const spin = hearClip(makeEvidence("spin", {}));
    const chance = (clips: (typeof fill)[]): number =>
      rankComponents(viewsOf(clips), washer, {}, "good").find(
        (row) => row.component === "inlet-valve",
      )!.priorChance;
    const usual = priorOf(washer, {}).get("inlet-valve")!;
    expect(chance([fill])).toBeGreaterThan(usual);
    expect(chance([fill, fill])).toBeGreaterThan(usual);
    expect(chance([fill, spin])).toBe(usual);
  });
});
