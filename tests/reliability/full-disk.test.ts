import { spawnSync } from "node:child_process";
import {
  mkdirSync,
  mkdtempSync,
  openSync,
  closeSync,
  readFileSync,
  readdirSync,
  rmSync,
  writeFileSync,
} from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { createRandom } from "../../src/foundation/random.js";
import { wavBytes } from "../../src/synthesis/wav-bytes.js";
import { openCommandLine, type CommandLine, type Ran } from "../batch/command-line.js";
import { compileClosure } from "../batch/compile-closure.js";
import { root } from "../project-root.js";

// Before the tests are listed, so that those without a disk can say so by their names.
const compiled = mkdtempSync(join(root, "node_modules", ".cache-full-disk-test-"));
const disk = join(compiled, "disk");
mkdirSync(disk);
const mounted =
  spawnSync("mount", ["-t", "tmpfs", "-o", "size=64k", "tmpfs", disk], { stdio: "ignore" })
    .status === 0;
if (!mounted) {
  process.stderr.write(
    "\nFULL-DISK TEST SKIPPED: no small disk may be mounted here (that takes root); only /dev/full is tried.\n",
  );
}

let main = "";
let line: CommandLine;

const run = (...args: string[]): Promise<Ran> => line.run(compiled, ...args);

const snapshot = (): Record<string, string> =>
  Object.fromEntries(
    readdirSync(disk).map((name) => [name, readFileSync(join(disk, name), "latin1")]),
  );

beforeAll(() => {
  main = compileClosure("cli/main.ts", compiled);
  line = openCommandLine(main);
  compileClosure("src/batch/triage/triage-worker.ts", compiled);
  const random = createRandom(5);
  const samples = Float32Array.from({ length: 4000 }, () => 0.1 * random.normal());
  writeFileSync(join(compiled, "clip.wav"), wavBytes(samples, 16_000));
}, 60_000);

afterAll(() => {
  line.close();
  if (mounted) spawnSync("umount", [disk]);
  rmSync(compiled, { recursive: true, force: true });
});

describe.skipIf(!mounted)("on a full disk", () => {
  it("each command says so, and what stood there stays byte for byte", async () => {
    const job = join(disk, "job.json");
    const rows = join(disk, "rows.ndjson");
    expect((await run("diagnose", "clip.wav", "--job", job)).status).toBe(0);
    await run("triage", "clip.wav", "--work", rows);
    try {
      for (;;) writeFileSync(join(disk, "filler"), "x".repeat(512), { flag: "a" });
    } catch (error) {
      expect((error as NodeJS.ErrnoException).code).toBe("ENOSPC");
    }
    const before = snapshot();
    const writing: readonly (readonly [status: number, ...args: string[]])[] = [
      [2, "next-check", job, "--found", "drum-rock=fail"],
      [1, "diagnose", "clip.wav", "--job", job, "--age", "9"],
      [1, "diagnose", "clip.wav", "--html", join(disk, "report.html")],
      [2, "triage", "clip.wav", "--age", "9", "--work", rows],
    ];
    for (const [status, ...args] of writing) {
      const { status: ended, stderr } = await run(...args);
      expect(stderr).toContain("the disk is full: free some space");
      expect(stderr.trim()).not.toContain("\n");
      expect(ended).toBe(status);
    }
    const after = snapshot();
    const { [`rows.ndjson`]: oldRows = "", ...old } = before;
    const { [`rows.ndjson`]: newRows = "", ...now } = after;
    expect(now).toEqual(old);
    // A row is written in one go; what did not fit may leave a beginning behind the whole rows.
    expect(newRows.startsWith(oldRows)).toBe(true);
    expect(newRows.slice(oldRows.length)).not.toContain("\n");
  });
});

describe("an answer that stdout cannot take", () => {
  it.each([
    [["frequencies", "--machine", "top-load", "--drum-rpm", "600"]],
    [["diagnose", "clip.wav"]],
  ])("is told on stderr, exit 2: %j", (args) => {
    const full = openSync("/dev/full", "w");
    const { status, stderr } = spawnSync(process.execPath, [main, ...args], {
      encoding: "utf8",
      cwd: compiled,
      stdio: ["ignore", full, "pipe"],
    });
    closeSync(full);
    expect(stderr).toContain("cannot be written to stdout (ENOSPC)");
    expect(status).toBe(2);
  });
});
