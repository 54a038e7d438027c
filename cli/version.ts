import { existsSync, readFileSync } from "node:fs";

// From the sources and from dist/cli.
const PLACES = ["../package.json", "../../package.json"];

interface PackageFile {
  readonly name?: string;
  readonly version?: string;
}

/** The version that package.json states; "unknown" where the program was taken out of its package. */
export function ownVersion(): string {
  const files = PLACES.map((path) => new URL(path, import.meta.url))
    .filter((url) => existsSync(url))
    .map((url) => JSON.parse(readFileSync(url, "utf8")) as PackageFile);
  return files.find(({ name }) => name === "washer-noise")?.version ?? "unknown";
}
