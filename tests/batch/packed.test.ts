import { execFileSync, spawnSync } from "node:child_process";
import {
  cpSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { createRandom } from "../../src/foundation/random.js";
import { wavBytes } from "../../src/synthesis/wav-bytes.js";
import { compileClosure } from "./compile-closure.js";
import { root } from "../project-root.js";

const elsewhere = mkdtempSync(join(tmpdir(), "washer-noise-packed-"));
const installed = join(elsewhere, "node_modules", "washer-noise");
const packages = join(root, "node_modules");

/** Packs what would be published and unpacks it far from here, with the same packages beside it. */
beforeAll(() => {
  const source = join(elsewhere, "source");
  for (const entry of ["cli/main.ts", "src/index.ts", "src/batch/triage/triage-worker.ts"]) {
    compileClosure(entry, join(source, "dist"));
  }
  for (const name of ["package.json", "README.md", "LICENSE"]) {
    cpSync(join(root, name), join(source, name));
  }
  const pack = ["pack", "--ignore-scripts", "--silent", "--pack-destination", elsewhere];
  execFileSync("npm", pack, { cwd: source, stdio: "ignore" });
  rmSync(source, { recursive: true });
  mkdirSync(installed, { recursive: true });
  const [tarball] = readdirSync(elsewhere).filter((name) => name.endsWith(".tgz"));
  const unpack = ["-xzf", join(elsewhere, tarball!), "-C", installed, "--strip-components=1"];
  execFileSync("tar", unpack);
  for (const name of readdirSync(packages).filter((one) => !one.startsWith("."))) {
    symlinkSync(join(packages, name), join(elsewhere, "node_modules", name));
  }
}, 60_000);

afterAll(() => {
  rmSync(elsewhere, { recursive: true, force: true });
});

describe("the packed package, unpacked in a folder of its own", () => {
  it("finds its threads and listens", () => {
    const random = createRandom(3);
    const samples = Float32Array.from({ length: 4000 }, () => 0.1 * random.normal());
    mkdirSync(join(elsewhere, "inbox"));
    for (const name of ["a.wav", "b.wav"]) {
      writeFileSync(join(elsewhere, "inbox", name), wavBytes(samples, 16_000));
    }
    const main = join(installed, "dist", "cli", "main.js");
    const args = [main, "triage", "inbox", "--workers", "2", "--json"];
    const { status, stdout, stderr } = spawnSync(process.execPath, args, {
      cwd: elsewhere,
      encoding: "utf8",
    });
    expect(stderr).not.toContain("fault");
    expect(status).toBe(0);
    const verdicts = stdout
      .trim()
      .split("\n")
      .map((line) => (JSON.parse(line) as { verdict: { label: string } }).verdict.label);
    // A quarter of a second shows nothing.
    expect(verdicts).toEqual(["record-again", "record-again"]);
  });
});
