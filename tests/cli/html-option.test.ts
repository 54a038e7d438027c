import { mkdirSync, mkdtempSync, readFileSync, readdirSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { htmlOptionsSchema } from "../../cli/checked-options.js";
import { runDiagnose } from "../../cli/run-diagnose.js";
import { createRandom } from "../../src/foundation/random.js";
import { wavBytes } from "../../src/synthesis/wav-bytes.js";
import { writeStartOfDemo } from "../start-of-demo.js";

let folder = "";
/** A spin that is heard, so that there is something to play. */
let spin = "";
/** Three seconds of noise: quick to listen to, whatever it is taken for. */
let short = "";

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), "washer-noise-html-"));
  mkdirSync(join(folder, "sounds"));
  spin = join(folder, "sounds", "spin.wav");
  await writeStartOfDemo(spin, 6);
  short = join(folder, "sounds", "short.wav");
  const random = createRandom(3);
  const samples = Float32Array.from({ length: 3 * 16_000 }, () => 0.1 * random.normal());
  writeFileSync(short, wavBytes(samples, 16_000));
});

afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

async function diagnose(sound: string, html: string, audio: boolean) {
  const said = { out: "", err: "" };
  const status = await runDiagnose(
    [`${sound}=spin`],
    { phase: "unknown", json: true, verbose: false, html, audio, ...machine },
    {
      out: (text) => (said.out += text),
      err: (text) => (said.err += text),
      progress: { say: () => undefined, done: () => undefined },
      color: false,
      width: 100,
      now: () => new Date(0),
    },
  );
  return { status, ...said };
}

const machine = {
  machine: "front-load-belt-universal",
  drumRpm: undefined,
  motorRpm: undefined,
  lineHz: undefined,
  age: undefined,
};

describe("--html", () => {
  it("writes the report beside the answer, which stays as it is", async () => {
    const path = join(folder, "report.html");
    const { status, out, err } = await diagnose(spin, path, true);
    expect([status, err]).toEqual([0, ""]);
    expect(JSON.parse(out)).toMatchObject({ schema: "washer-noise/diagnosis@1" });
    const page = readFileSync(path, "utf8");
    expect(page).toContain("spin.wav");
    expect(page.match(/<audio/g)!.length).toBeGreaterThanOrEqual(2);
    expect(page.match(/data:image\/png/g)).toHaveLength(1);
    expect(readdirSync(folder)).toEqual(["report.html", "sounds"]);
  });

  it("leaves every sound out with --no-audio", async () => {
    const path = join(folder, "silent.html");
    await diagnose(short, path, false);
    const page = readFileSync(path, "utf8");
    expect(page).not.toMatch(/<audio|data:audio/);
    expect(page).toContain("data:image/png");
  });

  it("takes only names that end in .html, so that no recording is overwritten by mistake", () => {
    expect(htmlOptionsSchema.safeParse({ html: "a.HTM" }).success).toBe(true);
    const wrong = htmlOptionsSchema.safeParse({ html: "spin.m4a" });
    expect(wrong.error!.issues[0]!.message).toMatch(/--html .*\.html.*"spin\.m4a"/);
  });

  it("says before it listens that the report has no place", async () => {
    const started = performance.now();
    await expect(diagnose(short, join(folder, "no-such-folder", "r.html"), false)).rejects.toThrow(
      /no-such-folder.*its folder does not exist: make it first/,
    );
    expect(performance.now() - started).toBeLessThan(500);
  });

  it("prints the answer even when the report cannot be written after all", async () => {
    const path = join(folder, "taken.html");
    mkdirSync(`${path}.part`);
    const { status, out, err } = await diagnose(short, path, false);
    expect(status).toBe(1);
    expect(JSON.parse(out)).toHaveProperty("verdict");
    expect(err).toMatch(/taken\.html cannot be written: .*What stood there before is unchanged/);
    expect(err.trim().split("\n")).toHaveLength(1);
  });
});
