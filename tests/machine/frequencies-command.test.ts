import { Command } from "commander";
import { describe, expect, test } from "vitest";
import { addFrequenciesCommand } from "../../cli/frequencies.js";
import { runFrequencies, type FrequenciesOptions } from "../../cli/run-frequencies.js";
import { MACHINE_IDS } from "../../src/machine/words.js";

const asked = { phase: "spin", json: false } as const;

interface Told {
  readonly schema: string;
  readonly machine: { readonly id: string };
  readonly speeds: Record<string, number | null>;
  readonly shaftsHz: Record<string, number | null>;
  readonly lines: readonly { readonly id: string; readonly hz: number | null }[];
}

const textOf = async (options: FrequenciesOptions, width: number): Promise<string> =>
  (await runFrequencies(options, width)).text;

describe("washer-noise frequencies", () => {
  test("questions speeds that cannot go together: a direct drive has one shaft", async () => {
    const told = { ...asked, machine: "front-load-direct", drumRpm: 1200 };
    expect((await runFrequencies({ ...told, motorRpm: 500 }, 100)).question).toMatch(
      /--motor-rpm 500 with --drum-rpm 1200.*1\.00 times a turn of the drum.*0\.42/,
    );
    expect((await runFrequencies({ ...told, motorRpm: 1200 }, 100)).question).toBeNull();
  });

  test("prints the rates worked out by hand, damaged parts before sound ones", async () => {
    const text = await textOf(
      { ...asked, machine: "front-load-direct", drumRpm: 600, lineHz: 50 },
      100,
    );
    expect(text).toMatch(/drum +600 rpm, 10\.00 turns a second/);
    // 8-ball outer race 3.05 x 10 Hz; 48 poles x 10 Hz; hum 2 x 50 Hz.
    expect(text).toMatch(/30\.6 .*drum x 3\.056 .*drum bearing, outer race, 8 balls/);
    expect(text).toMatch(/480\.0 .*drum x 48 .*tone/);
    expect(text).toMatch(/100\.0 .*mains x 2 .*mains hum/);
    const sound = text.indexOf("MADE BY A SOUND MACHINE TOO");
    expect(text.indexOf("outer race")).toBeLessThan(sound);
    expect(text.indexOf("mains hum")).toBeGreaterThan(sound);
  });

  test("keeps to the screen's width and rises in frequency within each part", async () => {
    const text = await textOf({ ...asked, drumRpm: 800, motorRpm: 8800, lineHz: 60 }, 90);
    expect(Math.max(...text.split("\n").map((line) => line.length))).toBeLessThanOrEqual(90);
    const part = text.split("MADE BY A SOUND MACHINE TOO")[1]!;
    const hz = [...part.matchAll(/^ {0,8}(\d[\d.]*) /gm)].map(([, value]) => Number(value));
    expect(hz.length).toBeGreaterThan(5);
    expect(hz).toEqual([...hz].sort((a, b) => a - b));
  });

  test("asks for the motor's speed where the drive ratio is not known well enough", async () => {
    const belt = { ...asked, machine: "front-load-belt-universal", drumRpm: 1200 };
    expect(await textOf(belt, 100)).toMatch(
      /motor +not known: tell --motor-rpm \(8 to 14 turns per drum turn\)/,
    );
    expect(await textOf({ ...belt, motorRpm: 14_400 }, 100)).toMatch(
      /5760 .*motor x 24 .*commutator, 24 bars/,
    );
  });

  test("says that a top loader's drum stands in the wash, and how fast the agitator goes", async () => {
    const text = await textOf(
      { ...asked, machine: "top-load-belt", motorRpm: 1725, phase: "wash" },
      100,
    );
    expect(text).toMatch(/drum +stands in this phase/);
    expect(text).toMatch(/agitator +138 rpm, 2\.30 turns a second/);
  });

  test("gives the same lines as JSON with --json, missing speeds as null", async () => {
    const text = await textOf(
      { ...asked, machine: "front-load-direct", drumRpm: 1200, json: true },
      100,
    );
    const told = JSON.parse(text) as Told;
    expect(told).toMatchObject({
      schema: "washer-noise/frequencies@1",
      machine: { id: "front-load-direct" },
      phase: "spin",
      speeds: { drumRpm: 1200, motorRpm: null, lineHz: null },
      shaftsHz: { drum: 20, motor: 20, agitator: null },
    });
    expect(told.lines.find(({ id }) => id === "rotor-stator/magnet/48")!.hz).toBe(960);
    expect(told.lines.find(({ id }) => id === "mains/hum")!.hz).toBeNull();
  });

  const run = async (...words: string[]): Promise<unknown> => {
    const program = new Command("washer-noise").exitOverride();
    program.configureOutput({ writeErr: () => undefined });
    addFrequenciesCommand(program);
    program.commands[0]!.exitOverride().configureOutput({ writeErr: () => undefined });
    return program.parseAsync(["frequencies", ...words], { from: "user" });
  };

  test.each([
    [["--drum-rpm", "fast"], /--drum-rpm must be a number from 1 to 3000 rpm, received "fast"/],
    [["--motor-rpm", "-5"], /--motor-rpm must be a number from 1 to 40000 rpm, received "-5"/],
    [["--phase", "rinse"], /rinse.*Allowed choices are fill, wash/],
    [["--line-hz", "55"], /55.*Allowed choices are 50, 60/],
    [["--machine", "twin-tub"], /machine must be one of top-load-belt.*received "twin-tub"/],
    [["--machine", "missing.json"], /missing\.json cannot be read/],
  ])("refuses %j in one line", async (words, message) => {
    await expect(run(...words)).rejects.toThrow(message);
  });

  test("names every kind of washer in its help", () => {
    const program = new Command("washer-noise");
    let help = "";
    addFrequenciesCommand(program);
    const command = program.commands[0]!;
    command.configureOutput({ writeOut: (text) => (help += text) });
    command.outputHelp();
    for (const id of MACHINE_IDS) expect(help).toContain(id);
  });
});
