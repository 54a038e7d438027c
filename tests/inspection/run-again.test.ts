import { describe, expect, it } from "vitest";
import { cautionsFor } from "../../src/inspection/cautions.js";
import { STOP_USE } from "../../src/inspection/data/cautions.data.js";
import type { PartChance } from "../../src/inspection/checks/weigh-findings.js";
import { howToRecord, howToRecordPair } from "../../src/report/html/how-to-record.js";

const heard: readonly PartChance[] = [
  { component: "drain-pump", probability: 0.2 },
  { component: "drive-belt", probability: 0.1 },
];

/** What a trade sheet tells whoever runs a faulty machine on purpose (common practice, no source). */
const SAID = [
  /stand clear/i,
  /every cover on/i,
  /no hand in/i,
  /burning smell/i,
  /sparks/i,
  /water near anything electric/i,
  /drum striking the cabinet/i,
];

describe("whoever is asked to run the machine once more", () => {
  it("is told to stand clear and when to switch it off", () => {
    for (const verdict of ["record-again", "not-a-washer"] as const) {
      const told = cautionsFor(heard, verdict);
      for (const rule of SAID) expect(told.join(" "), verdict).toMatch(rule);
      expect(told.slice(0, 3).join(" "), verdict).toMatch(/burning smell/);
    }
    for (const page of [howToRecord(), howToRecordPair()]) {
      for (const rule of SAID) expect(page.source).toMatch(rule);
    }
  });

  it("is told first to stop using a machine that may break up", () => {
    const [first] = cautionsFor([{ component: "drum-spider", probability: 0.6 }], "record-again");
    expect(first).toBe(STOP_USE.find((row) => row.components.includes("drum-spider"))!.text);
  });

  it("is not bothered with it where nobody asks for a recording", () => {
    expect(cautionsFor(heard, "likely").join(" ")).not.toMatch(/While it runs/);
  });
});
