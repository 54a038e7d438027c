import { rename, rm, stat, writeFile } from "node:fs/promises";
import { dirname } from "node:path";
import { WasherNoiseError } from "../foundation/errors.js";
import { codeOf, mayFill, writeFault } from "./write-fault.js";

const unwritable = (path: string, error: unknown, unchanged: string): WasherNoiseError =>
  new WasherNoiseError(
    "file-unwritable",
    `Report ${path} cannot be written: ${writeFault(error)}.${unchanged}`,
    { path, code: codeOf(error) },
  );

const isFolder = (path: string): Promise<boolean> =>
  stat(path).then(
    (found) => found.isDirectory(),
    () => false,
  );

/** Throws `file-unwritable` where a report can find no place, so that nobody waits for it in vain. */
export async function checkReportPlace(path: string | undefined): Promise<void> {
  if (path === undefined) return;
  if (await isFolder(path)) throw unwritable(path, { code: "EISDIR" }, "");
  const folder = dirname(path);
  if (!(await isFolder(folder))) throw unwritable(path, { code: "ENOENT" }, "");
  await mayFill(folder).catch((error: unknown) => {
    throw unwritable(path, error, "");
  });
}

/** Writes a report: beside its place first, then renamed, so that no half page is left behind. */
export async function writeReport(path: string, page: string): Promise<void> {
  const beside = `${path}.part`;
  try {
    await writeFile(beside, page);
    await rename(beside, path);
  } catch (error) {
    await rm(beside, { force: true }).catch(() => undefined);
    throw unwritable(path, error, " What stood there before is unchanged.");
  }
}
