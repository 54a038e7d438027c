import { describe, expect, it } from "vitest";
import { rankComponents, type RankedComponent } from "../../src/diagnosis/ranking.js";
import { hearClip, viewsOf } from "../../src/diagnosis/view.js";
import type { Evidence } from "../../src/evidence/evidence.js";
import { washerById } from "../../src/machine/washers.js";
import { PHASES, type Component, type Phase } from "../../src/machine/words.js";
import { grinding, makeEvidence } from "./make-evidence.js";

const washer = washerById("top-load-belt");

/** The grinding sound, its phase not told but thought to be these. */
function thought(shares: Partial<Record<Phase, number>>): Evidence {
  const scores = Object.fromEntries(PHASES.map((phase) => [phase, shares[phase] ?? 0]));
  return {
    ...makeEvidence("unknown", { ...grinding, "stroke-growl": 0.9 }),
    phase: { label: "unknown", given: false, scores: scores as Record<Phase, number> },
  };
}

function ranked(evidence: Evidence): ReadonlyMap<Component, RankedComponent> {
  const rows = rankComponents(viewsOf([hearClip(evidence)]), washer, {}, "good");
  return new Map(rows.map((row) => [row.component, row]));
}

describe("a recording whose phase is not told", () => {
  const wash = ranked(thought({ wash: 1 }));
  const spin = ranked(thought({ spin: 1 }));

  it("counts each part as the law of total probability has it: the mean of its likelihood over the phases", () => {
    const either = ranked(thought({ wash: 0.25, spin: 0.75 }));
    for (const [component, row] of either) {
      const likelihood =
        0.25 * Math.exp(wash.get(component)!.nats) + 0.75 * Math.exp(spin.get(component)!.nats);
      expect(Math.exp(row.nats)).toBeCloseTo(likelihood, 9);
    }
  });

  it("hears a phase that is certain as if it had been told", () => {
    const told = makeEvidence("wash", { ...grinding, "stroke-growl": 0.9 });
    for (const [component, row] of ranked(told)) {
      expect(wash.get(component)!.probability).toBeCloseTo(row.probability, 9);
    }
  });

  it("takes no side from a doubt about the phase itself: what is left open is shared as the rest is", () => {
    const open = ranked(thought({ wash: 0.1, spin: 0.3, unknown: 0.6 }));
    const known = ranked(thought({ wash: 0.25, spin: 0.75 }));
    for (const [component, row] of open) {
      expect(row.probability).toBeCloseTo(known.get(component)!.probability, 9);
    }
  });

  it("lets the gear case lead where it may be the wash, and not where it can only be the spin", () => {
    const gear = (rows: typeof wash): number => rows.get("gear-case")!.probability;
    const leading = (rows: typeof wash): Component => [...rows.keys()][0]!;
    expect(leading(wash)).toBe("gear-case");
    expect(gear(spin)).toBeLessThan(gear(wash) / 3);
    expect(gear(ranked(thought({ wash: 0.5, spin: 0.5 })))).toBeGreaterThan(0.5 * gear(wash) - 0.1);
  });
});
