import { createHash } from "node:crypto";
import { existsSync } from "node:fs";
import { mkdir, stat } from "node:fs/promises";
import { basename, dirname, join } from "node:path";
import type { Answer, RecordingFigures } from "../../answer/answer.js";
import { encodeClips } from "../../answer/encode-clips.js";
import type { Pictures } from "../../answer/picture-data.js";
import { isFailedRow, type TriageRow } from "../../answer/triage-row.js";
import { WasherNoiseError } from "../../foundation/errors.js";
import { diagnosisReport } from "../../report/html/reports.js";
import { codeOf, mayFill, writeFault } from "../write-fault.js";
import { checkReportPlace, writeReport } from "../write-report.js";

/** Where the pages of single recordings go, and what they hold. */
export interface PagesWanted {
  /** The list, whose name ends in `.html`. */
  readonly list: string;
  readonly audio: boolean;
}

/** Folder of the pages, beside the list: `today-clips` for `today.html`. */
export const pagesFolder = (list: string): string => list.replace(/\.html?$/i, "-clips");

const LONGEST_NAME = 60;

/**
 * Name of a recording's page: its own name in plain letters, and a hash of path and key, so that another
 * recording, or the same one told other things, never meets an old page.
 */
function pageName(file: string, key: string): string {
  const plain = basename(file)
    .replace(/[^A-Za-z0-9]+/g, "-")
    .replace(/^-|-$/g, "");
  const hash = createHash("sha256")
    .update(JSON.stringify([file, key]))
    .digest("hex");
  return `${plain.slice(0, LONGEST_NAME)}-${hash.slice(0, 12)}.html`;
}

/** Path of a recording's page. */
export const pagePath = (list: string, file: string, key: string): string =>
  join(pagesFolder(list), pageName(file, key));

/** What a page is drawn from beside the answer; without it the page has words and numbers only. */
export interface PageSources {
  readonly figures: readonly RecordingFigures[];
  readonly pictures: Pictures;
}

const noFolder = (folder: string, why: string, code: string): WasherNoiseError =>
  new WasherNoiseError(
    "file-unwritable",
    `Folder ${folder} for the pages of recordings cannot be ${why}.`,
    { path: folder, code },
  );

async function makeFolder(folder: string): Promise<void> {
  try {
    await mkdir(folder, { recursive: true });
  } catch (error) {
    throw noFolder(folder, `made: ${writeFault(error)}`, codeOf(error));
  }
}

/**
 * Throws `file-unwritable` where the list, or the folder of its pages beside it, can find no place: said
 * before hundreds of recordings are listened to.
 */
export async function checkPagesPlace(list: string | undefined): Promise<void> {
  if (list === undefined) return;
  await checkReportPlace(list);
  const folder = pagesFolder(list);
  const found = await stat(folder).catch(() => null);
  if (found === null) return;
  if (!found.isDirectory()) {
    throw noFolder(folder, "made: a file of that name is there; move it away", "EEXIST");
  }
  await mayFill(folder).catch((error: unknown) => {
    throw noFolder(folder, `filled: ${writeFault(error)}`, codeOf(error));
  });
}

/** Writes the page of one answered row. Throws `file-unwritable`. */
export async function writeClipPage(
  row: TriageRow,
  { list, audio }: PagesWanted,
  sources?: PageSources,
): Promise<void> {
  const { key, ticket, urgency, action } = row.triage;
  if (key === null || isFailedRow(row)) return;
  const answer = row as Answer;
  const path = pagePath(list, answer.recordings[0]!.file, key);
  const clips = sources && audio ? { clips: await encodeClips(sources.pictures) } : {};
  const page = await diagnosisReport({
    answer,
    ...sources,
    ...clips,
    desk: { ticket, urgency, action, list: `../${basename(list)}` },
  });
  await makeFolder(dirname(path));
  await writeReport(path, page);
}

/** Whether a row's page lies there. */
export const hasPage = (list: string, file: string, key: string): boolean =>
  existsSync(pagePath(list, file, key));

/** Address of a recording's page as it stands in the list. */
export const pageAddress = (list: string, file: string, key: string): string =>
  `${encodeURIComponent(basename(pagesFolder(list)))}/${pageName(file, key)}`;
