import { rename, rm, writeFile } from "node:fs/promises";
import { WasherNoiseError } from "../foundation/errors.js";
import { codeOf, writeFault } from "./write-fault.js";

/** Writes a report: beside its place first, then renamed, so that no half page is left behind. */
export async function writeReport(path: string, page: string): Promise<void> {
  const beside = `${path}.part`;
  try {
    await writeFile(beside, page);
    await rename(beside, path);
  } catch (error) {
    await rm(beside, { force: true }).catch(() => undefined);
    throw new WasherNoiseError(
      "file-unwritable",
      `Report ${path} cannot be written: ${writeFault(error)}. What stood there before is unchanged.`,
      { path, code: codeOf(error) },
    );
  }
}
