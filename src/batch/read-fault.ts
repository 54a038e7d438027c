import { codeOf } from "./write-fault.js";

const FAULTS: Readonly<Record<string, string>> = {
  ENOENT: "there is nothing of that name; check the path",
  ENOTDIR: "a file stands where a folder is meant; check the path",
  EISDIR: "that is a folder; name a file",
  EACCES: "you may not read it; change its rights",
  EPERM: "you may not read it; change its rights",
  EMFILE: "too many files are open; try again with fewer at a time",
};

/** Why a file or folder cannot be read and what to do about it, in a few words. */
export const readFault = (error: unknown): string => FAULTS[codeOf(error)] ?? codeOf(error);
