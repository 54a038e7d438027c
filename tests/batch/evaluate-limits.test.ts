import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { evaluateFolder } from "../../src/batch/evaluate-folder.js";
import { wavBytes } from "../../src/synthesis/wav-bytes.js";

const folder = mkdtempSync(join(tmpdir(), "washer-noise-evaluate-"));
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

function label(name: string, file: string): void {
  const truth = { schema: "washer-noise/truth@1", file, washer: false, faults: [] };
  writeFileSync(join(folder, `${name}.truth.json`), JSON.stringify(truth));
}

describe("evaluateFolder(folder, telling, options)", () => {
  it("keeps the limits, and follows no truth file out of its folder", async () => {
    writeFileSync(join(folder, "a.wav"), wavBytes(new Float32Array(16_000), 8000));
    label("a", "a.wav");
    label("b", "../elsewhere.wav");
    const { pairs, failures } = await evaluateFolder(folder, "nothing", {
      limits: { maxSeconds: 1 },
    });
    expect(pairs).toEqual([]);
    expect(failures).toHaveLength(2);
    expect(failures[0]).toContain("--max-minutes");
    expect(failures[1]).toContain("must be a name in the same folder");
  });
});
