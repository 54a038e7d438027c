import { readFile } from "node:fs/promises";
import { WasherNoiseError } from "../foundation/errors.js";
import { emptyJob } from "../inspection/job/job.js";
import { readingForJob } from "../inspection/meter/reading-for-job.js";
import type { MeterResult } from "../inspection/meter/meter-result.js";
import { openJobFile, writeJobFile } from "./job-file.js";

const MOST_TABLE_BYTES = 20_000;

/** Adds a judged reading to a job file; starts one where there is none. Earlier readings stay. */
export async function addReadingToJob(path: string, result: MeterResult, at: Date): Promise<void> {
  const opened = await openJobFile(path, emptyJob());
  const reading = readingForJob(result, at.toISOString());
  await writeJobFile(opened, { ...opened.job, readings: [...opened.job.readings, reading] });
}

/** A sensor's table: the rows themselves, or the text of a file that holds them. */
export async function loadSensorTable(rowsOrFile: string): Promise<string> {
  if (rowsOrFile.includes("=")) return rowsOrFile;
  try {
    const bytes = await readFile(rowsOrFile);
    if (bytes.length <= MOST_TABLE_BYTES) return bytes.toString("utf8");
  } catch (error) {
    throw new WasherNoiseError(
      "file-unreadable",
      `--table must hold rows such as 0=35.9k,30=9.7k or name a file of them; ${rowsOrFile} cannot be read.`,
      { file: rowsOrFile },
      { cause: error },
    );
  }
  throw new WasherNoiseError(
    "file-unreadable",
    `--table: ${rowsOrFile} must be at most ${MOST_TABLE_BYTES} bytes; it is no sensor table.`,
    { file: rowsOrFile },
  );
}
