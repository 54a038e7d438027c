import { describe, expect, it } from "vitest";
import type { TriageSummary } from "../../src/answer/triage-summary.js";
import { HOW_TO_RECORD } from "../../src/inspection/urgency/urgency-action.js";
import type { UrgencyLabel } from "../../src/inspection/urgency/urgency.js";
import { triagePage } from "../../src/report/html/triage-page.js";
import { triageText } from "../../src/report/triage-text.js";
import { triageGroups } from "../../src/report/triage-words.js";

const row = (
  file: string,
  verdict: TriageSummary["verdict"],
  label: UrgencyLabel,
): TriageSummary => ({
  ticket: null,
  file,
  urgency: { label, reasons: [] },
  action: { label: "another-recording", text: "Ask for another recording.", parts: [] },
  verdict,
  verdictText: "",
  character: null,
  phase: null,
  machine: null,
  sha256: null,
  parts: [],
  problem: null,
  other: {},
});

const rows = [
  row("smoke.m4a", "failure", "stop-use"),
  row("quiet.m4a", "normal-sound", "none"),
  row("missing.m4a", "failure", "none"),
];

describe("triageGroups(rows)", () => {
  it("never says that nothing presses of a recording that could not be read", () => {
    const files = triageGroups(rows).map(({ title, rows: own }) => [title, own.map((r) => r.file)]);
    expect(files).toEqual([
      ["Stop use now", ["smoke.m4a"]],
      ["Nothing presses", ["quiet.m4a"]],
      ["Could not be used", ["missing.m4a"]],
    ]);
  });

  it("never says that nothing presses of a recording without an answer", () => {
    const unclear = row("thump.m4a", "record-again", "none");
    const [first, second] = triageGroups([...rows.slice(1), unclear]);
    expect(first).toMatchObject({ id: "no-answer", rows: [{ file: "thump.m4a" }] });
    expect(second).toMatchObject({ id: "none", rows: [{ file: "quiet.m4a" }] });
  });

  it("counts every row once in the line on top", () => {
    const [top] = triageText(rows).split("\n");
    expect(top).toBe(
      "3 recordings: 1 to be stopped now, 1 with nothing pressing, 1 could not be used",
    );
  });
});

describe("a list with a warning that hangs on a question", () => {
  const reason = "Stop using it if the drum lip moves more than 6 mm by hand.";
  const asked: TriageSummary = {
    ...row("growl.m4a", "likely", "soon"),
    urgency: { label: "soon", reasons: [reason] },
  };

  it("does not say above it that no machine has to be stopped", () => {
    expect(triagePage([asked, rows[1]!])).toMatch(
      /<h1>1 machine may have to be stopped: ask first<\/h1>/,
    );
    expect(triagePage([rows[1]!])).toMatch(/<h1>Nothing heard asks for a machine to be stopped</);
    expect(triagePage([rows[2]!])).toMatch(/<h1>No machine could be judged</);
  });

  it("comes before the others also where the recording has no answer, and is counted", () => {
    const calm = row("a.m4a", "record-again", "none");
    const unclear = {
      ...calm,
      file: "b.m4a",
      urgency: { label: "none" as const, reasons: [reason] },
    };
    const page = triagePage([calm, unclear]);
    expect(page.indexOf("b.m4a")).toBeLessThan(page.indexOf("a.m4a"));
    expect(page).toContain("2 to be recorded again (1 with a warning to ask about first)");
  });

  it("tells the agent on the screen what to ask", () => {
    expect(triageText([asked], { width: 200 })).toContain(`! ${reason}`);
  });
});

describe("triageText(rows) on 80 columns", () => {
  it("cuts no part's name and no first check short, and tells once how to record", () => {
    const long: TriageSummary = {
      ...row("growl.m4a", "likely", "routine"),
      parts: [
        { component: "drum-bearing", condition: "worn", probability: 0.65 },
        { component: "rotor-stator", condition: null, probability: 0.07 },
      ],
      action: {
        label: "technician",
        text: `Send a technician. ${"Turn it by hand and listen closely. ".repeat(9)}`.trim(),
        parts: [],
      },
    };
    const again = {
      ...row("thump.m4a", "record-again", "none"),
      action: {
        label: "another-recording" as const,
        text: `Ask for another recording. ${HOW_TO_RECORD}`,
        parts: [],
      },
    };
    const text = triageText([long, again, { ...again, file: "more.m4a" }], { width: 80 });
    expect(text).not.toContain("…");
    expect(text).toContain("rotor or stator of the direct drive 7 %");
    expect(text.replace(/\s+/g, " ").split(HOW_TO_RECORD)).toHaveLength(2);
    expect(Math.max(...text.split("\n").map((line) => line.length))).toBeLessThanOrEqual(80);
  });
});

describe("a case without an answer", () => {
  it("says once on the page why it has none", () => {
    const why = "The noise fits none of the parts in the list.";
    const unclear = {
      ...row("thump.m4a", "record-again", "none"),
      verdictText: why,
      action: {
        label: "another-recording" as const,
        text: `Ask for another recording. ${why}`,
        parts: [],
      },
    };
    expect(triagePage([unclear]).split(why)).toHaveLength(2);
    // A file that cannot be read tells its own reason nowhere else.
    expect(triagePage([{ ...unclear, verdict: "failure" }]).split(why)).toHaveLength(3);
  });
});

describe("a list with wishes for other recordings", () => {
  it("gives the agent what to say of a running machine, on screen and page", () => {
    for (const list of [triageText(rows), triagePage(rows)]) {
      expect(list.replace(/\s+/g, " ")).toMatch(/say: While it runs: stand clear.* burning smell/);
    }
    const calm = rows.map((one) => ({
      ...one,
      action: { label: "no-part" as const, text: "Explain.", parts: [] },
    }));
    expect(triageText(calm)).not.toContain("While it runs");
  });
});
