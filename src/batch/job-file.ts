import { randomBytes } from "node:crypto";
import {
  open,
  readFile,
  readdir,
  realpath,
  rename,
  rm,
  stat,
  type FileHandle,
} from "node:fs/promises";
import { basename, dirname, isAbsolute, join, relative, resolve, sep } from "node:path";
import { WasherNoiseError } from "../foundation/errors.js";
import { jobText, type Job } from "../inspection/job/job.js";
import { jobFileError, parseJobText } from "../inspection/job/parse-job.js";
import { readFault } from "./read-fault.js";
import { codeOf, writeFault } from "./write-fault.js";

/** A job and the text it was read from; `text` null: there was no file. */
export interface OpenJob {
  readonly path: string;
  readonly job: Job;
  readonly text: string | null;
}

/** A job file is a few kilobytes; anything this large is something else. */
const MOST_BYTES = 16 * 1024 * 1024;
/** A temporary file this old was left by a writer that was killed. */
const STALE_MILLISECONDS = 10 * 60 * 1000;

function unwritable(path: string, error: unknown): WasherNoiseError {
  const code = codeOf(error);
  return new WasherNoiseError(
    "file-unwritable",
    `Job file ${path} cannot be written: ${writeFault(error)}. What stood there before is unchanged.`,
    { file: path, code },
    { cause: error },
  );
}

async function textOf(path: string): Promise<string | null> {
  try {
    const found = await stat(path);
    // Reading a pipe would wait for its writer. A folder fails by itself, with the system's word.
    if (found.size > MOST_BYTES || !(found.isFile() || found.isDirectory())) {
      throw jobFileError(
        path,
        "it must be a plain file of at most 16 MB. It is no job file; name another.",
      );
    }
    return await readFile(path, "utf8");
  } catch (error) {
    if (error instanceof WasherNoiseError) throw error;
    if (codeOf(error) === "ENOENT") return null;
    throw new WasherNoiseError(
      "file-unreadable",
      `Job file ${path} cannot be read: ${readFault(error)}.`,
      { file: path, code: codeOf(error) },
      { cause: error },
    );
  }
}

/** Reads a job file that must exist. Throws `file-unreadable` or `job-file-invalid`. */
export async function readJobFile(path: string): Promise<OpenJob> {
  const text = await textOf(path);
  if (text !== null) return { path, job: parseJobText(text, path), text };
  throw new WasherNoiseError(
    "file-unreadable",
    `Job file ${path} does not exist. Start one with: washer-noise diagnose CLIP --job ${path}`,
    { file: path, code: "ENOENT" },
  );
}

/** Reads a job file, or begins with `fresh` where there is none. */
export async function openJobFile(path: string, fresh: Job): Promise<OpenJob> {
  const text = await textOf(path);
  return { path, job: text === null ? fresh : parseJobText(text, path), text };
}

async function clearStale(folder: string, prefix: string): Promise<void> {
  for (const name of await readdir(folder)) {
    if (!name.startsWith(prefix) || !name.endsWith(".tmp")) continue;
    const path = join(folder, name);
    const { mtimeMs } = await stat(path);
    if (Date.now() - mtimeMs > STALE_MILLISECONDS) await rm(path, { force: true });
  }
}

/** Makes the rename itself last; some systems cannot sync a folder, and then it lasts soon enough. */
async function syncFolder(folder: string): Promise<void> {
  let handle: FileHandle | undefined;
  try {
    handle = await open(folder, "r");
    await handle.sync();
  } catch {
    return;
  } finally {
    await handle?.close();
  }
}

/** Follows a link to the file itself, so that the link stays a link. */
async function targetOf(path: string): Promise<string> {
  try {
    return await realpath(path);
  } catch {
    return resolve(path);
  }
}

async function writeBeside(target: string, text: string): Promise<string> {
  const prefix = `.${basename(target)}.`;
  await clearStale(dirname(target), prefix).catch(() => undefined);
  const beside = join(dirname(target), `${prefix}${randomBytes(6).toString("hex")}.tmp`);
  const mode = await stat(target).then(
    (found) => found.mode & 0o777,
    () => 0o644,
  );
  const handle = await open(beside, "wx", mode);
  try {
    await handle.writeFile(text, "utf8");
    await handle.sync();
  } catch (error) {
    await handle.close();
    await rm(beside, { force: true });
    throw error;
  }
  await handle.close();
  return beside;
}

/**
 * Writes a job: a new file beside the old one, forced to disk, then renamed over it, so that at any
 * moment the old or the new file stands whole.
 *
 * `opened` is what the change was made from. Throws `job-file-invalid` when somebody else changed the
 * file meanwhile, and `file-unwritable` when the disk is full or may not be written; the old file stays.
 */
export async function writeJobFile(opened: OpenJob, job: Job): Promise<void> {
  const { path } = opened;
  const text = jobText(job);
  if ((await textOf(path)) !== opened.text) {
    throw jobFileError(path, "it was changed by another program meanwhile. Run the command again.");
  }
  try {
    const target = await targetOf(path);
    const beside = await writeBeside(target, text);
    try {
      await rename(beside, target);
    } catch (error) {
      await rm(beside, { force: true });
      throw error;
    }
    await syncFolder(dirname(target));
  } catch (error) {
    throw unwritable(path, error);
  }
}

const leaves = (path: string): boolean =>
  path === ".." || path.startsWith(`..${sep}`) || isAbsolute(path);

/** How a file is written into the job: its path from the job file's folder, with `/`. */
export const pathForJob = (jobPath: string, file: string): string =>
  relative(dirname(resolve(jobPath)), resolve(file))
    .split(sep)
    .join("/");

/**
 * Where a file named in a job lies. Throws `job-file-invalid` when the path, or a link on its way,
 * leaves the job file's folder and `named` (paths given on the command line) does not hold it: a job
 * from a stranger must not make the program read elsewhere.
 */
export async function fileOfJob(
  jobPath: string,
  file: string,
  named: readonly string[] = [],
): Promise<string> {
  const folder = await targetOf(dirname(resolve(jobPath)));
  const path = await targetOf(resolve(folder, file));
  for (const one of named) if ((await targetOf(one)) === path) return path;
  if (!leaves(relative(folder, path)) && !isAbsolute(file)) return path;
  throw jobFileError(
    jobPath,
    `it names ${JSON.stringify(file)}, which lies outside its folder. Name that file on the command line, or move it beside the job.`,
    { path: file },
  );
}
