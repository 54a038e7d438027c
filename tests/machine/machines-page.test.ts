import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { parseMachineFile } from "../../src/machine/machine-file.js";
import { machineFileSchema } from "../../src/machine/machine-file-schema.js";
import { PROFILES } from "../../src/machine/washers.js";

const PAGE = readFileSync(new URL("../../docs/machines.md", import.meta.url), "utf8");

describe("docs/machines.md", () => {
  test("shows a machine file that is accepted", () => {
    const example = /```json\n([\s\S]*?)```/.exec(PAGE)![1]!;
    const washer = parseMachineFile(JSON.parse(example), "example.json");
    expect(washer.id).toBe("ground-floor laundry, left");
    expect(washer.profiles[0]!.motorToDrum.low).toBe(12);
  });

  test("names every field of a machine file", () => {
    const missing = Object.keys(machineFileSchema.shape).filter(
      (key) => !PAGE.includes(`\`${key}`),
    );
    expect(missing).toEqual([]);
  });

  test("tells each kind's drive ratio and spin speed as the data do", () => {
    for (const { id, motorToDrum, spinRpm } of PROFILES) {
      const row = PAGE.split("\n").find((line) => line.startsWith(`| \`${id}\` `))!;
      const { low, high } = motorToDrum;
      expect(row).toContain(low === high ? `| ${low} ` : `| ${low}–${high} `);
      expect(row).toContain(`| ${spinRpm.low}–${spinRpm.high} (${spinRpm.typical})`);
    }
  });

  test("quotes refusals as they are printed", () => {
    const like = "front-load-belt-universal";
    const wrong: readonly unknown[] = [
      { like, belt: { motorPulleyMm: "22" } },
      { like, belt: { motorPulleyMm: 20, drumPulleyMm: 300, lengthMm: 600 } },
      { like, motorToDrum: 9, belt: { motorPulleyMm: 20, drumPulleyMm: 270 } },
      { like: "top-load-belt", gears: { sun: 16, planet: 24, ring: 64, planets: 3 } },
    ];
    for (const json of wrong) {
      let message = "accepted";
      try {
        parseMachineFile(json, "laundry.json");
      } catch (error) {
        message = (error as Error).message;
      }
      expect(PAGE).toContain(message);
    }
  });
});
