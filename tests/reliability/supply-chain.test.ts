import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";

interface LockedPackage {
  readonly version: string;
  readonly integrity?: string;
  readonly license?: string;
  readonly hasInstallScript?: boolean;
  readonly dev?: boolean;
  readonly optional?: boolean;
}

const root = new URL("../../", import.meta.url);
const textOf = (name: string): string => readFileSync(new URL(name, root), "utf8");

const { packages } = JSON.parse(textOf("package-lock.json")) as {
  packages: Record<string, LockedPackage>;
};
const locked = Object.entries(packages)
  .filter(([path]) => path !== "")
  .map(([path, one]) => ({ name: path.replace(/^.*node_modules\//, ""), ...one }));
const atRunTime = locked.filter(({ dev, optional }) => !dev && !optional);

describe("the packages that are installed", () => {
  it("run no script when they are installed, and each is held to its hash", () => {
    const names = (wrong: (one: (typeof locked)[number]) => boolean): string[] =>
      locked.filter(wrong).map(({ name }) => name);
    expect(names(({ hasInstallScript }) => hasInstallScript === true)).toEqual([]);
    expect(names(({ integrity }) => !integrity?.startsWith("sha512-"))).toEqual([]);
  });

  it("at run time are few, permissively licensed, and each explained in docs/dependencies.md", () => {
    expect(atRunTime.length).toBeLessThanOrEqual(30);
    const page = textOf("docs/dependencies.md");
    for (const { name, license } of atRunTime) {
      expect(license, name).toMatch(/^(MIT|ISC|Apache-2\.0|MPL-2\.0|BSD-[23]-Clause)$/);
      // The line of its name in a table, and its licence in the same line.
      const row = page.split("\n").find((line) => line.startsWith("|") && line.includes(name));
      expect(row, name).toContain(license);
    }
  });
});
