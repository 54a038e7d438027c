import { existsSync } from "node:fs";

const PLACES = [
  process.env["CHROMIUM_PATH"],
  "/usr/bin/chromium",
  "/usr/bin/chromium-browser",
  "/usr/bin/google-chrome-stable",
];

/** The system's Chromium, or null when there is none. */
export const chromiumPath: string | null =
  PLACES.find((path) => path !== undefined && existsSync(path)) ?? null;

if (chromiumPath === null) {
  process.stderr.write(
    [
      "",
      "######################################################################",
      "#  NO CHROMIUM FOUND: THE REPORTS WERE NOT OPENED IN A REAL BROWSER.  #",
      "#  Install the system package `chromium`, or set CHROMIUM_PATH.       #",
      "######################################################################",
      "",
    ].join("\n"),
  );
}

/** Added to the titles of tests that did not run. */
export const skipped = chromiumPath === null ? " [SKIPPED: no Chromium found]" : "";
