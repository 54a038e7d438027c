import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import type { TriageRow } from "../../src/answer/triage-row.js";
import { openWorkFile } from "../../src/batch/triage/work-file.js";
import { RowList } from "../../src/batch/triage/row-list.js";

const folder = mkdtempSync(join(tmpdir(), "washer-noise-work-"));
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

const failed = (file: string, code: string): TriageRow => ({
  schema: "washer-noise/failure@1",
  file,
  problem: { code, message: `${file} is no sound.` },
  triage: {
    ticket: null,
    urgency: { label: "none", reasons: [] },
    action: { label: "another-recording", text: "Record again.", parts: [] },
    told: [],
    other: {},
    key: `key of ${file}`,
  },
});

describe("openWorkFile(path)", () => {
  it("knows finished rows again and reads them back, but not failures that may pass", async () => {
    const path = join(folder, "rows.ndjson");
    const first = await openWorkFile(path);
    first.append(failed("a.wav", "not-audio"));
    first.append(failed("ö.wav", "internal"));
    first.append(failed("c.wav", "recording-damaged"));
    first.close();
    const again = await openWorkFile(path);
    again.close();
    expect([...again.finished.keys()]).toEqual(["key of a.wav", "key of c.wav"]);
    const list = new RowList();
    for (const { summary, place } of again.finished.values()) list.add(summary, place);
    const files: string[] = [];
    for await (const row of list.rows()) files.push("file" in row ? row.file : "");
    expect(files).toEqual(["a.wav", "c.wav"]);
  });

  it("stops at the first row when another run writes into the same file", async () => {
    const path = join(folder, "shared.ndjson");
    const [one, other] = [await openWorkFile(path), await openWorkFile(path)];
    other.append(failed("a.wav", "not-audio"));
    expect(() => one.append(failed("b.wav", "not-audio"))).toThrow(
      expect.objectContaining({ code: "file-unwritable" }),
    );
    one.close();
    other.close();
    expect(readFileSync(path, "utf8")).toMatch(/^\{[^\n]*a\.wav[^\n]*\}\n$/);
  });
});
