import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import axe from "axe-core";
import { chromium, type Browser, type Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { chromiumPath, skipped } from "./chromium.js";
import {
  decodeClips,
  findSeriousFaults,
  isUnfolded,
  lookAtPrint,
  measureLook,
  readHostile,
  unfoldAndMeasure,
  whereIsFocus,
} from "./in-page.mjs";
import { HOSTILE_COMPLAINT, HOSTILE_FILE, makeReports, type ReportFile } from "./make-reports.js";

const NAMES = ["hostile", "two recordings", "plan", "comparison", "list", "evaluation"] as const;
const WITH_COMPLAINT = ["hostile", "plan"];
const WIDTHS = [1280, 360] as const;

let folder = "";
let reports: ReportFile[] = [];
let browser: Browser;

interface Opened {
  readonly page: Page;
  /** What the browser complained of: console, page errors, dialogs. */
  readonly complaints: string[];
  /** Everything that was asked of a disk or network but the file itself. */
  readonly requests: string[];
}

const reportOf = (name: (typeof NAMES)[number]): ReportFile =>
  reports.find((report) => report.name === name)!;

const opened = new Map<string, Promise<Opened>>();

/** The report at this width, opened once for all that is asked of it. */
function open(name: (typeof NAMES)[number], width: number): Promise<Opened> {
  const key = `${name} ${width}`;
  if (!opened.has(key)) opened.set(key, openAnew(name, width));
  return opened.get(key)!;
}

async function openAnew(name: (typeof NAMES)[number], width: number): Promise<Opened> {
  const page = await browser.newPage({ viewport: { width, height: 800 } });
  const complaints: string[] = [];
  const requests: string[] = [];
  page.on("console", (message) => complaints.push(`${message.type()}: ${message.text()}`));
  page.on("pageerror", (error) => complaints.push(error.message));
  page.on("dialog", (dialog) => complaints.push(dialog.message()));
  const address = pathToFileURL(reportOf(name).path).href;
  page.on("request", (request) => {
    const asked = request.url();
    if (asked !== address && !asked.startsWith("data:")) requests.push(asked);
  });
  await page.goto(address, { waitUntil: "load" });
  return { page, complaints, requests };
}

describe.skipIf(chromiumPath === null)(`reports opened from disk in Chromium${skipped}`, () => {
  beforeAll(async () => {
    folder = mkdtempSync(join(tmpdir(), "washer-noise-reports-"));
    reports = await makeReports(folder);
    browser = await chromium.launch({ executablePath: chromiumPath!, args: ["--no-sandbox"] });
  }, 300_000);

  afterAll(async () => {
    await browser.close();
    rmSync(folder, { recursive: true, force: true });
  });

  for (const name of NAMES) {
    it(`${name}: the page's own style is obeyed, and its drawing fits the screen`, async () => {
      for (const width of WIDTHS) {
        const { page } = await open(name, width);
        const seen = await page.evaluate(measureLook);
        expect(seen.maxWidth).toBe("868px");
        expect(width > 620 ? seen.narrow : seen.wide).toBe(0);
        expect(width > 620 ? seen.wide : seen.narrow).toBe(seen.figures);
        // Nobody reads less than ten pixels on a phone.
        expect(seen.smallestText).toBeGreaterThanOrEqual(10);
      }
    });

    it(`${name}: prints to readable pages`, async () => {
      const { page } = await open(name, 1280);
      const pdf = await page.pdf({ format: "A4" });
      const pages = pdf.toString("latin1").match(/\/Type\s*\/Page\b/g) ?? [];
      expect(pages.length).toBeGreaterThanOrEqual(1);
      expect(pages.length).toBeLessThan(20);
      await page.emulateMedia({ media: "print" });
      await page.setViewportSize({ width: 700, height: 1000 });
      const shown = await page.evaluate(lookAtPrint);
      await page.emulateMedia({ media: "screen" });
      await page.setViewportSize({ width: 1280, height: 800 });
      expect(shown).toEqual({ heading: true, contents: false, pictures: true, overflow: 0 });
    });

    it(`${name}: axe finds no serious fault`, async () => {
      const { page } = await open(name, 1280);
      await page.evaluate(axe.source);
      expect(await page.evaluate(findSeriousFaults)).toEqual([]);
    });
  }

  for (const name of ["hostile", "plan", "comparison", "list"] as const) {
    it(`${name}: shows markup, quotes and direction marks of names and complaints as text`, async () => {
      const { page } = await open(name, 1280);
      const seen = await page.evaluate(readHostile);
      expect(seen).toMatchObject({ ran: false, scripts: 0, images: 0 });
      const visible = (text: string): string =>
        text.replace(/[\u200E\u200F\u202A-\u202E\u2066-\u2069]/g, (mark) => {
          return `\\u${mark.charCodeAt(0).toString(16)}`;
        });
      expect(seen.text).toContain(visible(HOSTILE_FILE).split("/").at(-1));
      if (WITH_COMPLAINT.includes(name)) expect(seen.text).toContain(visible(HOSTILE_COMPLAINT));
    });
  }

  it("is worked by keyboard: links, players and folds are reached, seen, and answer to Enter", async () => {
    const { page } = await openAnew("hostile", 1280);
    const reached = new Set<string>();
    let ring = true;
    for (let i = 0; i < 40; i++) {
      await page.keyboard.press("Tab");
      const at = await page.evaluate(whereIsFocus);
      reached.add(at.tag);
      if (at.tag === "A" || at.tag === "SUMMARY") ring &&= at.outline !== "none";
    }
    expect([...reached]).toEqual(expect.arrayContaining(["A", "AUDIO", "SUMMARY"]));
    expect(ring).toBe(true);
    await page.focus("details.numbers summary");
    await page.keyboard.press("Enter");
    expect(await page.evaluate(isUnfolded)).toBe(true);
    await page.close();
  });

  it("plays its clips: the browser decodes each to its full length", async () => {
    const { page } = await open("hostile", 1280);
    const lengths = await page.evaluate(decodeClips);
    expect(lengths.length).toBeGreaterThanOrEqual(2);
    for (const seconds of lengths) expect(seconds).toBeCloseTo(8, 1);
  });

  // Last, since it opens every fold, and what was complained of before counts too.
  for (const name of NAMES) {
    it(`${name}: nothing is fetched, nothing is complained of, nothing overflows`, async () => {
      for (const width of WIDTHS) {
        const { page, complaints, requests } = await open(name, width);
        const { scrolled, visible } = await page.evaluate(unfoldAndMeasure);
        expect(complaints).toEqual([]);
        expect(requests).toEqual([]);
        expect(scrolled).toBeLessThanOrEqual(visible);
      }
    });
  }

  it("stays far below what mail servers refuse", () => {
    expect(reports).toHaveLength(NAMES.length);
    for (const { source } of reports) expect(source.length).toBeLessThan(3_000_000);
  });
});
