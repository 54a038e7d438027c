import type { Answer } from "../../answer/answer.js";
import { isFailedRow } from "../../answer/triage-row.js";
import { triageReport } from "../../report/html/reports.js";
import { writeReport } from "../write-report.js";
import { hasPage, pageAddress, writeClipPage, type PagesWanted } from "./clip-page.js";
import type { RowList } from "./row-list.js";

/**
 * Writes the list as a page, and the pages of recordings that have none yet: those that an earlier run, or
 * another machine, listened to. Such pages have no pictures; they say how to get them. Throws
 * `file-unwritable`.
 */
export async function writePages(list: RowList, wanted: PagesWanted): Promise<void> {
  const pages = new Map<string, string>();
  for await (const row of list.rows()) {
    const { key } = row.triage;
    if (key === null || isFailedRow(row)) continue;
    const { file } = (row as Answer).recordings[0]!;
    if (!hasPage(wanted.list, file, key)) await writeClipPage(row, wanted);
    pages.set(file, pageAddress(wanted.list, file, key));
  }
  await writeReport(wanted.list, await triageReport(list.summaries(), pages));
}
