import { readdirSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import { truthSchema } from "../../src/evaluation/truth.js";

const folder = fileURLToPath(new URL("../../samples-synthetic/", import.meta.url));
const names = readdirSync(folder);
const sounds = names.filter((name) => /\.(m4a|ogg|wav)$/.test(name));
const truths = names
  .filter((name) => name.endsWith(".truth.json"))
  .map((name) => truthSchema.parse(JSON.parse(readFileSync(folder + name, "utf8"))));

describe("the committed sample recordings", () => {
  it("have a truth beside each sound and a sound beside each truth", () => {
    expect(truths.map((truth) => truth.file).sort()).toEqual([...sounds].sort());
  });

  it("hold faults, machines in order and sounds that are no washer", () => {
    const normal = truths.filter((truth) => truth.washer && truth.faults.length === 0);
    const faulty = new Set(truths.flatMap((truth) => truth.faults));
    expect(truths.filter((truth) => !truth.washer).length).toBeGreaterThanOrEqual(2);
    expect(normal.length).toBeGreaterThanOrEqual(4);
    expect(faulty.size).toBeGreaterThanOrEqual(18);
  });

  it("are each listed with the command that made them", () => {
    const readme = readFileSync(`${folder}README.md`, "utf8");
    for (const { file, seed } of truths) {
      expect(readme).toContain(`\`${file}\``);
      expect(readme).toContain(`--name ${file.replace(/\.\w+$/, "")} --seed`);
      expect(Number.isInteger(seed)).toBe(true);
    }
  });
});
