import { createHash, randomUUID } from "node:crypto";
import { mkdirSync, readFileSync, renameSync, writeFileSync } from "node:fs";
import { dirname, join, relative, resolve } from "node:path";
import ts from "typescript";
import { root } from "../project-root.js";

const cache = join(root, "node_modules", ".cache-compiled");

/** JavaScript of a source text. Kept by content, since many tests compile the same few hundred files. */
function javascriptOf(text: string): string {
  const kept = join(cache, createHash("sha256").update(ts.version).update(text).digest("hex"));
  try {
    return readFileSync(kept, "utf8");
  } catch {
    const { outputText } = ts.transpileModule(text, {
      compilerOptions: { module: ts.ModuleKind.ESNext, target: ts.ScriptTarget.ES2022 },
    });
    mkdirSync(cache, { recursive: true });
    // Other tests compile at the same time; a rename leaves no half file for them to read.
    const beside = `${kept}.${randomUUID()}`;
    writeFileSync(beside, outputText);
    renameSync(beside, kept);
    return outputText;
  }
}

/**
 * Turns one source file and all it imports into JavaScript under `folder`, for a child process to run.
 * Returns the entry's path there. Types are not checked; `npm run check` does that.
 */
export function compileClosure(entry: string, folder: string): string {
  const place = (source: string): string =>
    join(folder, relative(root, source).replace(/\.ts$/, ".js"));
  const seen = new Set<string>();
  const visit = (source: string): void => {
    if (seen.has(source)) return;
    seen.add(source);
    const outputText = javascriptOf(readFileSync(source, "utf8"));
    mkdirSync(dirname(place(source)), { recursive: true });
    writeFileSync(place(source), outputText);
    for (const [, path] of outputText.matchAll(/(?:from|import\() ?"(\.[^"]+)\.js"/g)) {
      visit(resolve(dirname(source), `${path}.ts`));
    }
  };
  visit(resolve(root, entry));
  return place(resolve(root, entry));
}
