import { spawn, spawnSync } from "node:child_process";
import {
  lstatSync,
  mkdirSync,
  mkdtempSync,
  readFileSync,
  readdirSync,
  rmSync,
  symlinkSync,
  utimesSync,
  writeFileSync,
} from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, beforeEach, describe, expect, it } from "vitest";
import {
  fileOfJob,
  openJobFile,
  pathForJob,
  readJobFile,
  writeJobFile,
} from "../../src/batch/job-file.js";
import { emptyJob, jobText, type Job } from "../../src/inspection/job/job.js";
import { compileClosure } from "./compile-closure.js";
import { root } from "../project-root.js";

let compiled = "";
let writer = "";
let folder = "";
let path = "";

const withNotes = (count: number): Job => ({
  ...emptyJob(),
  complaint: { text: `${count} `.repeat(900).trim() },
});

beforeAll(() => {
  // Inside node_modules, so that the child finds zod.
  compiled = mkdtempSync(join(root, "node_modules", ".cache-job-file-test-"));
  const entry = compileClosure("src/batch/job-file.ts", compiled);
  writer = join(compiled, "writer.mjs");
  writeFileSync(
    writer,
    `import { readJobFile, writeJobFile } from ${JSON.stringify(entry)};
const [path, times] = process.argv.slice(2);
for (let i = 0; i < Number(times); i++) {
  const opened = await readJobFile(path);
  const text = String(i) + " ";
  await writeJobFile(opened, { ...opened.job, complaint: { text: text.repeat(900).trim() } });
  if (i === 0) process.stdout.write("writing\\n");
}
`,
  );
}, 60_000);

afterAll(() => {
  rmSync(compiled, { recursive: true, force: true });
});

beforeEach(() => {
  folder = mkdtempSync(join(compiled, "job-"));
  path = join(folder, "job.json");
});

/** Lets a child write the job over and over, and kills it a few milliseconds after its first write. */
function killWhileWriting(afterMilliseconds: number): Promise<void> {
  return new Promise((done, fail) => {
    const child = spawn(process.execPath, [writer, path, "1000000"]);
    child.on("error", fail);
    child.on("exit", (_code, signal) => {
      if (signal === "SIGKILL") done();
      else fail(new Error("the writer ended by itself"));
    });
    child.stdout.once("data", () => {
      setTimeout(() => child.kill("SIGKILL"), afterMilliseconds);
    });
  });
}

describe("writing a job file", () => {
  it("leaves the old or the new job whole when killed with -9 at any moment, 12 times", async () => {
    writeFileSync(path, jobText(withNotes(0)));
    for (let round = 0; round < 12; round++) {
      await killWhileWriting(3 + 7 * round);
      const { job } = await readJobFile(path);
      const words = new Set(job.complaint!.text!.split(" "));
      expect(words.size).toBe(1);
    }
  }, 30_000);

  it("keeps the old job and says so when the file cannot grow to its size", async () => {
    const old = jobText(emptyJob());
    writeFileSync(path, old);
    // The kernel itself refuses to write beyond one block of 1024 bytes.
    const { status, stderr } = spawnSync(
      "bash",
      ["-c", `ulimit -f 1; exec "$0" "$@"`, process.execPath, writer, path, "1"],
      { encoding: "utf8" },
    );
    expect(status).not.toBe(0);
    expect(stderr).toMatch(/cannot be written: .*What stood there before is unchanged/);
    expect(readFileSync(path, "utf8")).toBe(old);
    expect(readdirSync(folder)).toEqual(["job.json"]);
  });

  it("refuses to overwrite what somebody else wrote meanwhile", async () => {
    writeFileSync(path, jobText(emptyJob()));
    const opened = await readJobFile(path);
    writeFileSync(path, jobText(withNotes(7)));
    await expect(writeJobFile(opened, withNotes(1))).rejects.toMatchObject({
      code: "job-file-invalid",
    });
    expect((await readJobFile(path)).job).toEqual(withNotes(7));
  });

  it("begins a job where there is none, and names the remedy when one was needed", async () => {
    await expect(readJobFile(path)).rejects.toThrow(/does not exist.*diagnose CLIP --job/);
    await writeJobFile(await openJobFile(path, emptyJob()), withNotes(3));
    expect((await readJobFile(path)).job).toEqual(withNotes(3));
  });

  it("says that the folder is missing instead of making one", async () => {
    const lost = join(folder, "nowhere", "job.json");
    await expect(
      writeJobFile({ path: lost, job: emptyJob(), text: null }, emptyJob()),
    ).rejects.toThrow(/folder does not exist/);
  });

  it("leaves a damaged or newer file byte for byte as it was", async () => {
    for (const text of ["{ broken", `{"schema":"washer-noise/job@9"}`]) {
      writeFileSync(path, text);
      await expect(openJobFile(path, emptyJob())).rejects.toMatchObject({
        code: "job-file-invalid",
      });
      expect(readFileSync(path, "utf8")).toBe(text);
    }
  });

  it("writes through a link, and the link stays one", async () => {
    const real = join(folder, "real.json");
    writeFileSync(real, jobText(emptyJob()));
    symlinkSync("real.json", path);
    await writeJobFile(await readJobFile(path), withNotes(2));
    expect(lstatSync(path).isSymbolicLink()).toBe(true);
    expect((await readJobFile(real)).job).toEqual(withNotes(2));
  });

  it("clears what a killed writer left long ago, and nothing else", async () => {
    writeFileSync(path, jobText(emptyJob()));
    const stale = join(folder, ".job.json.00ff.tmp");
    const fresh = join(folder, ".job.json.00aa.tmp");
    const other = join(folder, ".other.json.00ff.tmp");
    for (const one of [stale, fresh, other]) writeFileSync(one, "half");
    for (const one of [stale, other]) utimesSync(one, 1000, 1000);
    await writeJobFile(await readJobFile(path), withNotes(2));
    expect(readdirSync(folder).sort()).toEqual([
      ".job.json.00aa.tmp",
      ".other.json.00ff.tmp",
      "job.json",
    ]);
  });
});

describe("files that a job names", () => {
  it("are written from the job's folder and found again there", async () => {
    mkdirSync(join(folder, "clips"));
    const clip = join(folder, "clips", "spin.m4a");
    writeFileSync(clip, "sound");
    expect(pathForJob(path, clip)).toBe("clips/spin.m4a");
    expect(await fileOfJob(path, "clips/spin.m4a")).toBe(clip);
  });

  it.each(["../outside.wav", "/etc/hostname", "clips/../../outside.wav"])(
    "outside its folder are refused: %s",
    async (file) => {
      await expect(fileOfJob(path, file)).rejects.toThrow(/outside its folder/);
    },
  );

  it("behind a link that leads out are refused, unless the user named them", async () => {
    const outside = join(compiled, "outside.wav");
    writeFileSync(outside, "sound");
    symlinkSync(outside, join(folder, "spin.wav"));
    await expect(fileOfJob(path, "spin.wav")).rejects.toThrow(/outside its folder/);
    expect(await fileOfJob(path, "spin.wav", [outside])).toBe(outside);
    expect(await fileOfJob(path, "../outside.wav", [outside])).toBe(outside);
  });
});
