import { mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { dirname, join, relative, resolve } from "node:path";
import ts from "typescript";

const root = new URL("../..", import.meta.url).pathname;

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
    const { outputText } = ts.transpileModule(readFileSync(source, "utf8"), {
      compilerOptions: { module: ts.ModuleKind.ESNext, target: ts.ScriptTarget.ES2022 },
    });
    mkdirSync(dirname(place(source)), { recursive: true });
    writeFileSync(place(source), outputText);
    for (const [, path] of outputText.matchAll(/(?:from|import\() ?"(\.[^"]+)\.js"/g)) {
      visit(resolve(dirname(source), `${path}.ts`));
    }
  };
  visit(resolve(root, entry));
  return place(resolve(root, entry));
}
