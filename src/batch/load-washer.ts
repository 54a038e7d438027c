import { readFile, stat } from "node:fs/promises";
import { WasherNoiseError } from "../foundation/errors.js";
import { parseMachineFile } from "../machine/machine-file.js";
import type { Washer } from "../machine/profile.js";
import { washerById } from "../machine/washers.js";
import { readFault } from "./read-fault.js";

/** A machine file has a few hundred bytes; anything this large is something else. */
const MOST_BYTES = 1024 * 1024;

const looksLikeFile = (text: string): boolean => /[\\/]|\.json$/i.test(text);

async function readMachineFile(path: string): Promise<unknown> {
  let text: string;
  try {
    const found = await stat(path);
    if (!found.isFile() || found.size > MOST_BYTES) {
      throw new WasherNoiseError(
        "machine-file-invalid",
        `Machine file ${path} must be a plain file of at most 1 MB. Name the file that describes the machine.`,
        { path, mostBytes: MOST_BYTES },
      );
    }
    // Some editors put a byte order mark first.
    text = (await readFile(path, "utf8")).replace(/^\uFEFF/, "");
  } catch (error) {
    if (error instanceof WasherNoiseError) throw error;
    throw new WasherNoiseError(
      "file-unreadable",
      `Machine file ${path} cannot be read: ${readFault(error)}.`,
      { path },
    );
  }
  try {
    return JSON.parse(text) as unknown;
  } catch (error) {
    throw new WasherNoiseError(
      "machine-file-invalid",
      `Machine file ${path} is not JSON: ${(error as Error).message}.`,
      { path },
    );
  }
}

/**
 * The washer that `--machine` names: a built-in id, or a machine file when the text has a slash or ends
 * in `.json`. Left out: the family `unknown`, which pools all kinds.
 */
export async function loadWasher(idOrFile?: string): Promise<Washer> {
  if (idOrFile === undefined) return washerById("unknown");
  if (!looksLikeFile(idOrFile)) return washerById(idOrFile);
  return parseMachineFile(await readMachineFile(idOrFile), idOrFile);
}
