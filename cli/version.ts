import { existsSync, readFileSync } from "node:fs";

// From the sources and from dist/cli.
const PLACES = ["../package.json", "../../package.json"];

/** The version that package.json states; "unknown" where the program was taken out of its package. */
export function ownVersion(): string {
  const place = PLACES.map((path) => new URL(path, import.meta.url)).find((url) => existsSync(url));
  if (place === undefined) return "unknown";
  return (JSON.parse(readFileSync(place, "utf8")) as { version: string }).version;
}
