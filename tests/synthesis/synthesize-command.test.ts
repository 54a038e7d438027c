import { mkdtempSync, readFileSync, readdirSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { Command } from "commander";
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { addSynthesizeCommand } from "../../cli/synthesize.js";

let folder: string;

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "washer-noise-"));
  vi.spyOn(process.stdout, "write").mockReturnValue(true);
});

afterEach(() => {
  rmSync(folder, { recursive: true, force: true });
  process.exitCode = 0;
  vi.restoreAllMocks();
});

const run = async (...options: string[]): Promise<void> => {
  const program = new Command().exitOverride();
  addSynthesizeCommand(program);
  await program.parseAsync(["synthesize", "--out", folder, "--seconds", "1", ...options], {
    from: "user",
  });
};

const read = (name: string): Buffer => readFileSync(join(folder, name));

describe("washer-noise synthesize", () => {
  it("writes sounds with their truth, the same again for the same options", async () => {
    await run("--count", "2", "--fault", "drain-pump", "--phase", "drain");
    const names = readdirSync(folder).sort();
    expect(names).toEqual([
      "clip-0001.truth.json",
      "clip-0001.wav",
      "clip-0002.truth.json",
      "clip-0002.wav",
      "how-made.json",
    ]);
    const truth = JSON.parse(read("clip-0001.truth.json").toString()) as object;
    expect(truth).toMatchObject({
      file: "clip-0001.wav",
      phase: "drain",
      faults: ["drain-pump"],
      codec: "pcm 16 bit",
    });
    const before = names.map((name) => read(name));
    await run("--count", "2", "--fault", "drain-pump", "--phase", "drain");
    expect(names.map((name) => read(name))).toEqual(before);
  });

  it("leaves a folder with anything else in it alone", async () => {
    writeFileSync(join(folder, "holiday.wav"), "mine");
    await expect(run("--count", "1")).rejects.toThrow(/holds "holiday.wav"/);
    expect(readdirSync(folder)).toEqual(["holiday.wav"]);
  });

  it("clears no file outside its folder, whatever its list says", async () => {
    const outside = join(folder, "..", `${folder.split("/").pop()}-outside.txt`);
    writeFileSync(outside, "mine");
    const list = { files: [`../${outside.split("/").pop()}`] };
    writeFileSync(join(folder, "how-made.json"), JSON.stringify(list));
    await run("--count", "1");
    expect(readFileSync(outside, "utf8")).toBe("mine");
    rmSync(outside);
  });

  it.each([
    [["--fault", "flux-capacitor"], /--fault must be one of drum-bearing, .*"flux-capacitor"/],
    [["--count", "1.5"], /--count must be a whole number/],
    [["--seconds", "0"], /--seconds must be a number from 1 to 600/],
    [["--name", "../up"], /--name must be letters/],
  ])("refuses %j in one line", async (options, complaint) => {
    await expect(run(...options)).rejects.toThrow(complaint);
    expect(readdirSync(folder)).toEqual([]);
  });
});
