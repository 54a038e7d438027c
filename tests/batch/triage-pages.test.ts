import { copyFileSync, existsSync, mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { TriageSummary } from "../../src/answer/triage-summary.js";
import type { ClipTask } from "../../src/batch/triage/clip-task.js";
import { RowList } from "../../src/batch/triage/row-list.js";
import { triageClip } from "../../src/batch/triage/triage-clip.js";
import { openWorkFile, type WorkFile } from "../../src/batch/triage/work-file.js";
import { writePages } from "../../src/batch/triage/write-pages.js";
import { triagePage } from "../../src/report/html/triage-page.js";
import { root } from "../project-root.js";

const sample = join(root, "samples-synthetic/mon-2-school-kitchen.m4a");

let folder = "";
let work: WorkFile;
let list: RowList;
const named = (name: string): string => join(folder, name);

const task = (file: string, pages: ClipTask["pages"]): ClipTask => ({
  file,
  ticket: "T-1 <b>&",
  other: {},
  key: "k",
  pages,
  limits: {},
  settings: {
    machine: "top-load-belt",
    phase: "drain",
    drumRpm: null,
    motorRpm: null,
    lineHz: null,
    ageYears: null,
    told: [],
  },
});

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), "washer-noise-pages-"));
  work = await openWorkFile(named("work.ndjson"));
  list = new RowList();
  // Two recordings of one name in two letters' cases, and one that an earlier run listened to.
  for (const [name, pages] of [
    [`drain <img> 'x'.m4a`, { list: named("today.html"), audio: true }],
    ["earlier.m4a", null],
    ["missing.m4a", null],
  ] as const) {
    if (name !== "missing.m4a") copyFileSync(sample, named(name));
    const { summary, place } = work.append(await triageClip(task(named(name), pages)));
    list.add(summary, place);
  }
  await writePages(list, { list: named("today.html"), audio: true });
}, 60_000);

afterAll(() => {
  work.close();
  rmSync(folder, { recursive: true, force: true });
});

const links = (): string[] =>
  [...readFileSync(named("today.html"), "utf8").matchAll(/<a href="([^#"]+)"/g)].map(
    ([, address]) => address!,
  );

describe("pages of triage", () => {
  it("are one for each recording that was read, each reached from the list and leading back to it", () => {
    expect(links()).toHaveLength(2);
    for (const address of links()) {
      const path = join(folder, decodeURIComponent(address));
      const back = /<a href="([^#"]+)"/.exec(readFileSync(path, "utf8"))![1]!;
      expect(join(dirname(path), decodeURIComponent(back))).toBe(named("today.html"));
    }
    expect(readdirSync(named("today-clips"))).toHaveLength(2);
  });

  it("hold pictures and clips of what was listened to now, and say so of what was not", () => {
    const pages = links().map((address) =>
      readFileSync(join(folder, decodeURIComponent(address)), "utf8"),
    );
    const [drawn, kept] = pages.sort((a, b) => b.length - a.length) as [string, string];
    expect(drawn).toMatch(/<audio[\s\S]*id="spectrogram-1"/);
    expect(kept).not.toMatch(/<audio|<figure id="spectrogram/);
    expect(kept).toContain("made from the kept answer, without the recording");
    for (const page of pages) {
      expect(page.length).toBeLessThan(3_000_000);
      expect(page).toContain("T-1 &lt;b&gt;&amp;");
      expect(page).toContain("What to do");
    }
  });

  it("leave a page alone that is there already", async () => {
    const [address] = links();
    const path = join(folder, decodeURIComponent(address!));
    const before = readFileSync(path, "utf8");
    await writePages(list, { list: named("today.html"), audio: false });
    expect(readFileSync(path, "utf8")).toBe(before);
  });

  it("cost no answer when they cannot be written, and say at the end that they could not", async () => {
    const nowhere = { list: join(sample, "today.html"), audio: false };
    const row = await triageClip(task(named("earlier.m4a"), nowhere));
    expect(row.schema).toBe("washer-noise/diagnosis@1");
    await expect(writePages(list, nowhere)).rejects.toThrow(
      /today-clips for the pages of recordings cannot be made/,
    );
    expect(existsSync(nowhere.list)).toBe(false);
  });
});

describe("the list as a page", () => {
  const row = (file: string): TriageSummary => ({
    ticket: null,
    file,
    urgency: { label: "routine", reasons: [] },
    action: { label: "technician", text: "Send a technician.".repeat(20), parts: [] },
    verdict: "likely",
    verdictText: "",
    character: "grinding",
    phase: "spin",
    machine: null,
    sha256: null,
    parts: [{ component: "drum-bearing", condition: null, probability: 0.7 }],
    problem: null,
    other: {},
  });

  it("stays under three million characters with ten thousand recordings, and counts what it left out", () => {
    const page = triagePage(Array.from({ length: 10_000 }, (_, i) => row(`inbox/${i}.m4a`)));
    expect(page.length).toBeLessThan(3_000_000);
    const shown = page.match(/\d+\.m4a/g)!.length;
    expect(shown).toBeGreaterThan(1000);
    expect(page).toContain(`${10_000 - shown} more are left out`);
    expect(page).toContain("In its turn (10000)");
  });

  it("does not repeat the folder that all recordings lie in", () => {
    const page = triagePage([row("inbox/a/1.m4a"), row("inbox/b/1.m4a")]);
    expect(page).toMatch(/>a\/1\.m4a</);
    expect(page).toMatch(/>b\/1\.m4a</);
    expect(page).not.toContain("inbox/");
  });
});
