import { describe, expect, it } from "vitest";
import { partInSentence } from "../../src/diagnosis/part-words.js";
import type { RankedComponent } from "../../src/diagnosis/ranking.js";
import { RULES } from "../../src/diagnosis/rules.js";
import { verdictOf } from "../../src/diagnosis/verdict.js";
import { hearClip, viewsOf } from "../../src/diagnosis/view.js";
import type { Component } from "../../src/machine/words.js";
import { makeEvidence } from "./make-evidence.js";

const ranking = (...rows: readonly [Component, number][]): RankedComponent[] =>
  rows.map(([component, probability]) => ({
    component,
    probability,
    nats: 0,
    priorChance: 0.1,
    phaseNats: 0,
    characterNats: 0,
    contributions: [],
  }));

/** A machine is clearly heard. */
const views = viewsOf([hearClip(makeEvidence("spin", { "machine-likeness": 3 }))]);

const verdict = (
  rows: readonly RankedComponent[],
  told: { machine: boolean; phase: boolean } = { machine: true, phase: true },
) => verdictOf(rows, views, [[]], { ...told, speed: true });

describe("the words of an answer", () => {
  it("say what is heard in the trade's words, not in those of signal theory", () => {
    for (const rule of RULES) {
      const said = [rule.heard, rule.notHeard ?? "", rule.why].join(" ");
      expect(said, rule.id).not.toMatch(/modulat|sideband|harmonic|spectr|envelope|kurtosis/i);
    }
  });

  it("speak of parts that every machine has, and of things that only some have", () => {
    expect(partInSentence("drum-bearing")).toBe("the drum bearing");
    expect(partInSentence("unbalanced-load")).toBe("an unbalanced load");
    expect(partInSentence("loose-panel")).toBe("a loose panel");
  });

  it("call a sound right only where that is likely, and else say that no part stands out", () => {
    const sure = verdict(ranking(["normal", 0.63], ["drain-pump", 0.1], ["other", 0.05]));
    const faint = verdict(ranking(["normal", 0.34], ["suspension", 0.06], ["drum-spider", 0.06]));
    expect([sure.label, faint.label]).toEqual(["normal-sound", "normal-sound"]);
    expect(sure.text).toMatch(/^This sounds as the machine should \(63 %\)\./);
    expect(faint.text).toMatch(/^No part stands out/);
  });

  it("call no part certain, however far it leads", () => {
    const leads = verdict(
      ranking(["drum-bearing", 0.997], ["drive-belt", 0.002], ["normal", 0.001]),
    );
    expect(leads.text).toBe("Most likely the drum bearing (over 99 %).");
  });

  it("ask with another recording only for what nobody has told", () => {
    const many = ranking(["drum-bearing", 0.15], ["drive-belt", 0.14], ["gear-case", 0.1]);
    const ask = (machine: boolean, phase: boolean) => verdict(many, { machine, phase }).text;
    expect(ask(true, true)).toMatch(/from its start\.$/);
    expect(ask(false, true)).toMatch(/say which kind of machine\.$/);
    expect(ask(true, false)).toMatch(/say which part of the programme it is\.$/);
    expect(ask(false, false)).toMatch(/programme it is and which kind of machine\.$/);
  });

  it("doubt that anything is wrong before they name a part, however far that part leads the others", () => {
    const doubtful = verdict(ranking(["drain-pump", 0.66], ["normal", 0.22], ["controls", 0.04]));
    expect(doubtful.label).toBe("record-again");
    expect(doubtful.text).toMatch(/^It is not clear whether anything is wrong/);
    const clear = verdict(ranking(["drain-pump", 0.66], ["controls", 0.2], ["normal", 0.06]));
    expect(clear.label).toBe("likely");
  });

  it("name the chance that nothing is wrong as such, not as a part", () => {
    const text = verdict(ranking(["normal", 0.46], ["drain-pump", 0.23], ["other", 0.05])).text;
    expect(text).toMatch(/^Perhaps nothing is wrong \(46 %\), perhaps the drain pump \(23 %\)\./);
  });
});
