import { describe, expect, it } from "vitest";
import type { TriageSummary } from "../../src/answer/triage-summary.js";
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

  it("counts every row once in the line on top", () => {
    const [top] = triageText(rows).split("\n");
    expect(top).toBe("3 recordings: 1 stop use now, 1 nothing presses, 1 could not be used");
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
