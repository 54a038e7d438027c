import { statSync } from "node:fs";
import { basename, dirname, resolve } from "node:path";
import type { TriageCommandOptions } from "./triage-options.js";

const isFolder = (path: string): boolean =>
  statSync(path, { throwIfNoEntry: false })?.isDirectory() ?? false;

/**
 * Where rows are kept: the file that `--work` names, else `inbox.triage.ndjson` in the current folder,
 * after the folder of the first recordings. Folders of recordings are often read-only or shared, so
 * nothing is written there; each has its own file, so that two runs do not meet in one.
 */
export function workPathFor(
  paths: readonly string[],
  { work, shard }: Pick<TriageCommandOptions, "work" | "shard">,
): string {
  if (work !== undefined) return work;
  const first = resolve(paths[0]!);
  const name = basename(isFolder(first) ? first : dirname(first)) || "recordings";
  return `${name}.triage${shard ? `.${shard.index}-of-${shard.count}` : ""}.ndjson`;
}
