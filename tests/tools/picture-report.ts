// Makes the pictures of a report that README.md and docs/report.md show, from a sample recording:
//   npm run picture:report
// Needs the system's Chromium (or CHROMIUM_PATH).
import { existsSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { chromium } from "playwright-core";
import {
  diagnoseRecordings,
  diagnosisReport,
  encodeClips,
  loadClip,
  washerById,
  writeReport,
} from "../../src/index.js";

const CLIP = "samples-synthetic/demo-spin.m4a";

async function makeReport(path: string): Promise<void> {
  const clip = await loadClip(CLIP);
  const { answer, figures, pictures } = diagnoseRecordings([{ ...clip, phase: "spin" }], {
    washer: washerById("front-load-belt-universal"),
    machineGiven: true,
    ageYears: 9,
    pictures: "with-clips",
  });
  const clips = await encodeClips(pictures!);
  await writeReport(path, await diagnosisReport({ answer, figures, pictures: pictures!, clips }));
}

const executablePath = [process.env["CHROMIUM_PATH"], "/usr/bin/chromium"].find(
  (path) => path !== undefined && existsSync(path),
);
if (executablePath === undefined)
  throw new Error("No Chromium found: install it, or set CHROMIUM_PATH.");

const folder = mkdtempSync(join(tmpdir(), "washer-noise-picture-"));
const browser = await chromium.launch({ executablePath, args: ["--no-sandbox"] });
try {
  const path = join(folder, "report.html");
  await makeReport(path);
  const page = await browser.newPage({
    viewport: { width: 900, height: 640 },
    deviceScaleFactor: 1.5,
  });
  await page.goto(pathToFileURL(path).href);
  await page.screenshot({ path: "docs/pictures/report.png" });
  await page.locator("#orders-1").screenshot({ path: "docs/pictures/report-orders.png" });
} finally {
  await browser.close();
  rmSync(folder, { recursive: true, force: true });
}
