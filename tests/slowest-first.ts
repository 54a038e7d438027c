import { relative } from "node:path";
import { fileURLToPath } from "node:url";
import { BaseSequencer, type TestSpecification } from "vitest/node";

/**
 * Files that take longest, slowest first. Begun last, one of them would keep one worker busy while the
 * other has nothing left to do.
 */
const SLOWEST = [
  "browser/reports",
  "speed/estimate-speed",
  "fuzz/fuzz",
  "reliability/kill",
  "drawn-sounds/drawn-sounds",
  "metamorphic/same-machine",
  "second-simulator/second-simulator",
  "cli/diagnose-command",
  "batch/triage-command",
  "evidence/character-rows",
  "evidence/lines-tones",
  "evidence/lines",
  "evidence/turn-rows",
  "comparison/compare",
  "plain-recipes/plain-recipes",
  "reliability/full-disk",
  "synthesis/clip",
  "cli/html-option",
  "evidence/stroke-rows",
  "batch/triage-pages",
];

const root = fileURLToPath(new URL(".", import.meta.url));

const rank = ({ moduleId }: TestSpecification): number => {
  const at = SLOWEST.indexOf(relative(root, moduleId).replace(/\.test\.ts$/, ""));
  return at === -1 ? SLOWEST.length : at;
};

/** Starts the slowest files first; vitest itself knows them only from an earlier run on the same clone. */
export class SlowestFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const usual = await super.sort(files);
    return usual.toSorted((a, b) => rank(a) - rank(b));
  }
}
