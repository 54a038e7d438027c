import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { inShard } from "../../src/batch/triage/inbox.js";
import { isLoss, runPool, type Loss } from "../../src/batch/triage/worker-pool.js";

const docs = new URL("../../docs/", import.meta.url);
let folder = "";
let script: URL;

interface Task {
  readonly n: number;
  readonly how?: "die" | "hang";
}

// Doubles a number; dies or hangs when told to.
const WORKER = `import { parentPort } from "node:worker_threads";
parentPort.on("message", ({ n, how }) => {
  if (how === "die") process.exit(3);
  while (how === "hang");
  parentPort.postMessage({ doubled: 2 * n });
});`;

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "washer-noise-pool-"));
  writeFileSync(join(folder, "worker.mjs"), WORKER);
  script = pathToFileURL(join(folder, "worker.mjs"));
});

afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

async function* each<T>(tasks: readonly T[], onTake: () => void = () => undefined) {
  for (const task of tasks) {
    onTake();
    yield await Promise.resolve(task);
  }
}

const pool = (tasks: AsyncIterable<Task>, signal?: AbortSignal, secondsPerTask = 30) =>
  runPool<Task, { doubled: number }>(tasks, { script, workers: 2, secondsPerTask, signal });

describe("runPool(tasks, options)", () => {
  it("loses only the task whose thread dies or hangs", async () => {
    const tasks: Task[] = [
      { n: 1 },
      { n: 2, how: "die" },
      { n: 3, how: "hang" },
      { n: 4 },
      { n: 5 },
    ];
    const results = new Map<number, number | Loss["why"]>();
    for await (const { task, result } of pool(each(tasks), undefined, 2)) {
      results.set(task.n, isLoss(result) ? result.why : result.doubled);
    }
    expect(Object.fromEntries(results)).toEqual({ 1: 2, 2: "died", 3: "too-slow", 4: 8, 5: 10 });
  });

  it("takes no more tasks than there are free threads, however many there are", async () => {
    let taken = 0;
    let done = 0;
    const tasks = Array.from({ length: 40 }, (_, n) => ({ n }));
    for await (const { result } of pool(each(tasks, () => taken++))) {
      done += isLoss(result) ? 0 : 1;
      expect(taken - done).toBeLessThanOrEqual(2);
    }
    expect(done).toBe(40);
  });

  it("ends hanging threads and throws `cancelled` when the signal comes", async () => {
    const controller = new AbortController();
    setTimeout(() => {
      controller.abort();
    }, 300);
    const began = performance.now();
    const running = pool(each<Task>([{ n: 1, how: "hang" }]), controller.signal).next();
    await expect(running).rejects.toMatchObject({ code: "cancelled" });
    expect(performance.now() - began).toBeLessThan(2300);
  });
});

describe("inShard(file, shard)", () => {
  it("gives every recording to exactly one part, by its name alone", () => {
    for (let i = 0; i < 200; i++) {
      const name = `customer-${i}/spin.m4a`;
      const parts = Array.from({ length: 8 }, (_, k) => ({ index: k + 1, count: 8 }));
      const here = parts.filter((part) => inShard({ path: `/a/${name}`, name }, part));
      const there = parts.filter((part) => inShard({ path: `/mnt/b/${name}`, name }, part));
      expect(here).toHaveLength(1);
      expect(there).toEqual(here);
    }
  });
});

describe("docs/many-machines.md", () => {
  it("writes each part into the file that its merge reads, and counts parts from 1", () => {
    const page = readFileSync(new URL("many-machines.md", docs), "utf8");
    const commands = page
      .replaceAll("\\\n", " ")
      .split("\n")
      .filter((line) => line.includes("--shard ") && line.includes("--work "));
    const shards = commands.map((line) => /--shard "?(\S+?)\/(\d+)"? /.exec(line)?.slice(1, 3));
    const parts = commands.map((line) => /--work "?out\/(\S+?)\.ndjson/.exec(line)?.[1]);
    expect(commands).toHaveLength(5);
    expect(shards.map((shard) => shard?.[0])).toEqual(parts);
    expect(shards.map((shard) => shard?.[1])).toEqual(["2", "2", "8", "8", "8"]);
    expect(page).toContain("--array=1-8");
    expect(page).toContain("completions: 8");
    expect(page).toContain("JOB_COMPLETION_INDEX + 1");
  });
});
