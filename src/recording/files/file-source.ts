import { createHash } from "node:crypto";
import { open, stat, type FileHandle } from "node:fs/promises";
import { WasherNoiseError } from "../../foundation/errors.js";
import { pieces, type ByteSource } from "../decode/byte-source.js";

/** An open file, to be closed by the caller. */
export interface FileSource extends ByteSource {
  close(): Promise<void>;
}

const remedies: Readonly<Record<string, string>> = {
  ENOENT: "there is no such file. Check the path",
  EACCES: "reading it is not permitted. Change its permissions",
  EPERM: "reading it is not permitted. Change its permissions",
  EMFILE: "too many files are open. Try again with fewer at a time",
};

function unreadable(path: string, cause: unknown): WasherNoiseError {
  const code = (cause as NodeJS.ErrnoException).code ?? "unknown";
  const why = remedies[code] ?? `it cannot be read (${code}). Copy it again`;
  return new WasherNoiseError(
    "file-unreadable",
    `${path}: ${why}.`,
    { file: path, code },
    { cause },
  );
}

/** Opens a file for reading. Throws `file-unreadable` for a missing path, a folder, a pipe or a device. */
export async function openFileSource(path: string): Promise<FileSource> {
  let handle: FileHandle;
  try {
    // Opening a pipe would wait for its writer, so the kind is asked first.
    const found = await stat(path);
    if (!found.isFile()) {
      const hint = "Name a sound file";
      const [kind, remedy] = found.isDirectory()
        ? ["a folder", `${hint}, or see \`washer-noise triage\` for many of them`]
        : ["not a plain file", hint];
      throw new WasherNoiseError("file-unreadable", `${path}: this is ${kind}. ${remedy}.`, {
        file: path,
      });
    }
    handle = await open(path, "r");
  } catch (error) {
    if (error instanceof WasherNoiseError) throw error;
    throw unreadable(path, error);
  }
  const { size } = await handle.stat();
  return {
    name: path,
    sizeBytes: size,
    read: async (start, length) => {
      const bytes = new Uint8Array(Math.max(0, Math.min(length, size - start)));
      try {
        const { bytesRead } = await handle.read(bytes, 0, bytes.length, start);
        return bytes.subarray(0, bytesRead);
      } catch (error) {
        throw unreadable(path, error);
      }
    },
    close: () => handle.close(),
  };
}

/** SHA-256 of the whole content, 64 hexadecimal digits. */
export async function sha256Of(source: ByteSource): Promise<string> {
  const hash = createHash("sha256");
  for await (const piece of pieces(source, 0, 1 << 20)) hash.update(piece);
  return hash.digest("hex");
}
