import { access, constants } from "node:fs/promises";

const FAULTS: Readonly<Record<string, string>> = {
  ENOSPC: "the disk is full: free some space",
  EDQUOT: "your share of the disk is used up: free some space",
  EFBIG: "the file would be larger than allowed here",
  EROFS: "the disk is read-only: name a file elsewhere",
  EACCES: "you may not write there: change the rights or name a file elsewhere",
  EPERM: "you may not write there: change the rights or name a file elsewhere",
  ENOENT: "its folder does not exist: make it first",
  ENOTDIR: "its folder does not exist: make it first",
  EISDIR: "that is a folder: name a file in it",
};

/** The system's word for what went wrong, such as `ENOSPC`. */
export const codeOf = (error: unknown): string =>
  (error as NodeJS.ErrnoException).code ?? "unknown cause";

/** Why a file cannot be written and what to do about it, in a few words. */
export const writeFault = (error: unknown): string => FAULTS[codeOf(error)] ?? codeOf(error);

/** Throws the system's error where nothing can be put into a folder. */
export const mayFill = (folder: string): Promise<void> =>
  access(folder, constants.W_OK | constants.X_OK);
