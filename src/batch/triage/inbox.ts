import { createHash } from "node:crypto";
import { readdir, stat } from "node:fs/promises";
import { basename, join } from "node:path";
import { WasherNoiseError } from "../../foundation/errors.js";
import { readFault } from "../read-fault.js";
import { codeOf } from "../write-fault.js";

/** A recording to listen to. */
export interface InboxFile {
  readonly path: string;
  /** Its path from the folder given, with `/`; of a file given by itself, its bare name. */
  readonly name: string;
}

/** Endings of sound and video files; in folders nothing else is taken for a recording. */
const ENDINGS =
  /\.(?:3g2|3gp|aac|ac3|aif|aiff|alac|amr|awb|caf|flac|m4a|m4b|m4v|mka|mkv|mov|mp3|mp4|mpeg|mpg|oga|ogg|opus|wav|wave|weba|webm|wma)$/i;

async function inFolder(root: string, under: string): Promise<InboxFile[]> {
  const entries = await readdir(join(root, under), { withFileTypes: true });
  const found: InboxFile[] = [];
  for (const entry of entries.sort((a, b) => (a.name < b.name ? -1 : 1))) {
    if (entry.name.startsWith(".")) continue;
    const name = under === "" ? entry.name : `${under}/${entry.name}`;
    // A link to a folder may lead in a circle, so only links to files are followed.
    if (entry.isDirectory()) found.push(...(await inFolder(root, name)));
    else if (ENDINGS.test(entry.name)) found.push({ path: join(root, name), name });
  }
  return found;
}

async function isFolder(path: string): Promise<boolean> {
  try {
    return (await stat(path)).isDirectory();
  } catch {
    // A missing file becomes a failure row of its own.
    return false;
  }
}

/**
 * The recordings under folders, in order of name, and the files given by themselves, each once. In
 * folders, files without the ending of a sound or video file and hidden ones are passed over.
 *
 * Throws `file-unreadable` for a folder that cannot be read.
 */
export async function findRecordings(paths: readonly string[]): Promise<InboxFile[]> {
  const found = new Map<string, InboxFile>();
  for (const path of paths) {
    try {
      const files = (await isFolder(path))
        ? await inFolder(path, "")
        : [{ path, name: basename(path) }];
      for (const file of files) found.set(file.path, file);
    } catch (error) {
      throw new WasherNoiseError(
        "file-unreadable",
        `Folder ${path} cannot be read: ${readFault(error)}.`,
        { file: path, code: codeOf(error) },
      );
    }
  }
  return [...found.values()];
}

/** Part `index` of `count`, counted from 1. */
export interface Shard {
  readonly index: number;
  readonly count: number;
}

/**
 * Whether a recording belongs to a shard: first 48 bits of the SHA-256 of its name, modulo the count.
 * The name alone decides, so every machine splits alike whatever else lies in its folder, and wherever
 * the folder is mounted.
 */
export function inShard({ name }: InboxFile, { index, count }: Shard): boolean {
  const digest = createHash("sha256").update(name.normalize("NFC")).digest();
  return digest.readUIntBE(0, 6) % count === index - 1;
}
