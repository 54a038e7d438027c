import { cautionsFor, isStopUse } from "../../src/inspection/cautions.js";
import { CAUTIONS, STOP_USE } from "../../src/inspection/data/cautions.data.js";
import { describe, expect, it } from "vitest";
import type { Answer } from "../../src/answer/answer.js";
import { diagnosisText } from "../../src/report/diagnosis-text.js";
import { COMPONENTS } from "../../src/machine/words.js";

const scores = {
  grinding: 0.9,
  whirring: 0.1,
  thumping: 0.1,
  squealing: 0,
  rattling: 0.2,
  humming: 0.1,
};
const reason = (text: string, weight: number) => ({ rule: "r", text, weight, source: "s" });
const speed = {
  drumRpm: { value: 1200, low: 1190, high: 1210 },
  motorRpm: null,
  lineHz: 50 as const,
  track: [],
  notes: ["told-speed-contradicted" as const],
};

function answer(file: string, reasons: number): Answer {
  const phase = { label: "spin" as const, given: false };
  const long =
    "A long reason that goes on and on about what was heard in the spin and why it matters so much";
  return {
    schema: "washer-noise/diagnosis@1",
    recordings: [
      {
        file,
        sha256: "0",
        durationSeconds: 20,
        sampleRateHz: 48_000,
        channels: 1,
        codec: "m4a, AAC-LC",
        bandHz: [60, 15_000],
        problems: [],
        phase,
        speed,
        character: { label: "grinding", scores },
      },
    ],
    machine: { id: "unknown", given: false, label: "any washer" },
    phase,
    speed,
    character: { label: "grinding", scores },
    components: (["drum-bearing", "motor-bearing", "drive-belt", "normal", "other"] as const).map(
      (component, i) => ({
        component,
        probability: [0.7, 0.12, 0.08, 0.06, 0.04][i]!,
        for: Array.from({ length: reasons }, (_, k) => reason(`${long} (${k}).`, 1)),
        against: Array.from({ length: reasons }, (_, k) => reason(`${long} against (${k}).`, -1)),
      }),
    ),
    predictionSet: { cover: 0.9, components: ["drum-bearing", "motor-bearing", "drive-belt"] },
    verdict: { label: "likely", text: "Most likely the drum bearing (70 %)." },
    nextChecks: [
      {
        check: "x",
        text: `${long}.`,
        minutes: 5,
        audience: "technician",
        separates: [],
        why: "helps",
      },
      {
        check: "y",
        text: `${long}.`,
        minutes: 5,
        audience: "customer",
        separates: [],
        why: "helps",
      },
    ],
    cautions: [`${long}.`, `${long} too.`, `${long} as well.`],
    estimated: ["phase", "drum speed"],
  };
}

describe("diagnosisText(answer)", () => {
  it("puts the answer on the first line and stays within 40 lines of the width, however much there is to say", () => {
    for (const width of [70, 100]) {
      const lines = diagnosisText(answer("spin.m4a", 6), { width }).trimEnd().split("\n");
      expect(lines[0]).toBe("Most likely the drum bearing (70 %).");
      expect(lines.length).toBeLessThanOrEqual(40);
      expect(Math.max(...lines.map((line) => line.length))).toBeLessThanOrEqual(width);
    }
  });

  it("drops no warning where six and more belong to the parts and checks, and still fits the screen", () => {
    const likely = [
      "drum-bearing",
      "drive-belt",
      "rotor-stator",
      "drain-pump",
      "suspension",
      "motor-brushes",
    ] as const;
    const cautions = cautionsFor(
      likely.map((component) => ({ component, probability: 0.16 })),
      "shortlist",
    );
    expect(cautions.length).toBeGreaterThanOrEqual(6);
    const made = answer("spin.m4a", 6);
    const nextChecks = made.nextChecks.map((row) => ({ ...row, text: `${row.text} `.repeat(3) }));
    for (const width of [80, 100]) {
      const told = diagnosisText({ ...made, nextChecks, cautions }, { width });
      expect(told.trimEnd().split("\n").length).toBeLessThanOrEqual(40);
      // Few words a warning, rather than a check less.
      expect(told).toContain("\nthen ");
      const words = told.replaceAll(/\s+/g, " ");
      for (const text of cautions) {
        const short = CAUTIONS.find((row) => row.text === text)?.short ?? text;
        expect(words.includes(text) || words.includes(short) || isStopUse(text)).toBe(true);
      }
    }
  });

  it("says what must stop right under the answer, and only there", () => {
    const stop = STOP_USE[0]!.text;
    const made = { ...answer("spin.m4a", 1), cautions: [stop, "Pull the plug."] };
    const text = diagnosisText(made, { width: 1000 });
    expect(text.split("\n")[1]).toBe(stop);
    expect(text.split(stop)).toHaveLength(2);
    expect(text).toContain("Take care  Pull the plug.");
  });

  it("says of a machine that must not run first that it must stop, then that a recording is wanted", () => {
    const cautions = cautionsFor([{ component: "drum-spider", probability: 0.4 }], "record-again");
    const wish = "It is not clear whether anything is wrong. Record 20 seconds or more.";
    const text = diagnosisText(
      { ...answer("bang.m4a", 1), cautions, verdict: { label: "record-again", text: wish } },
      { width: 1000 },
    );
    const [stop, wait, third] = text.split("\n");
    expect(stop).toMatch(/^Stop using the machine/);
    expect(wait).toMatch(/recording has to wait/);
    expect(third).toBe(wish);
  });

  it("leaves out no warning", () => {
    const cautions = ["One.", "Two.", "Three.", "Four.", "Five."];
    const text = diagnosisText({ ...answer("s.m4a", 6), cautions });
    for (const caution of cautions) expect(text).toContain(caution);
  });

  it("says among how many parts the cause lies with nine chances in ten", () => {
    expect(diagnosisText(answer("spin.m4a", 1))).toContain(
      "A list cut off after the first 3 parts held the cause in 90 % of simulated recordings",
    );
  });

  it("keeps silent about a set too long to help", () => {
    const made = answer("spin.m4a", 1);
    const components = COMPONENTS.slice(0, 7);
    const long = { ...made, predictionSet: { ...made.predictionSet, components } };
    expect(diagnosisText(long)).not.toContain("A list cut off");
  });

  it("lists every part of the set it speaks of, also where the last ones hardly count", () => {
    const made = answer("spin.m4a", 1);
    const chances = [0.9, 0.03, 0.03, 0.02, 0.02];
    const components = made.components.map((row, i) => ({ ...row, probability: chances[i]! }));
    const text = diagnosisText({ ...made, components });
    expect(text).toContain("after the first 3 parts");
    expect(text).toMatch(/^ {2}3 {2}drive belt/m);
  });

  it("says a problem once, and not that nothing unusual was heard where nothing could be", () => {
    const message = "Nothing of the recording can be used; record 20 s or more.";
    const made = answer("dog.ogg", 1);
    const problems = [{ code: "too-short" as const, message }];
    const text = diagnosisText({
      ...made,
      character: { ...made.character, label: "none" },
      recordings: [{ ...made.recordings[0]!, problems }],
      verdict: { label: "record-again", text: message },
    });
    expect(text.split(message)).toHaveLength(2);
    expect(text).not.toContain("no unusual noise");
  });

  it("keeps a figure and its unit on one line at any width", () => {
    for (let width = 60; width <= 110; width++) {
      expect(diagnosisText(answer("spin.m4a", 3), { width })).not.toMatch(
        /\d\n *(%|rpm|min|Hz|kHz)/,
      );
    }
  });

  it("says what nobody told, what contradicts the told speed, and the odds in words", () => {
    const text = diagnosisText(answer("spin.m4a", 1)).replace(/\s+/g, " ");
    expect(text).toContain("Not told phase, drum speed (taken from the sound)");
    expect(text).toContain("contradicts the speed you gave");
    expect(text).toMatch(/drum bearing.*70 %.*likely/);
    expect(text).toContain("1190 to 1210");
  });

  it("shows control characters of a file name instead of obeying them", () => {
    const text = diagnosisText(answer("a\u001b[2Jb\u202etxt.wav", 1));
    expect(text).not.toContain("\u001b");
    expect(text).not.toContain("\u202e");
    expect(text).toContain("a\\u001b[2Jb\\u202etxt.wav");
  });

  it("writes no colour codes unless asked", () => {
    expect(diagnosisText(answer("s.wav", 1))).not.toContain("\u001b");
    expect(diagnosisText(answer("s.wav", 1), { color: true })).toContain("\u001b[1m");
  });
});
