/* eslint-disable no-console */
// Feeds the program thousands of damaged and hostile files:
//   npm run fuzz:nightly [-- CASES [SEED [FIRST]]]       default 20,000 cases, seed 1
// Each must end in an answer or one typed error within five seconds and 1 GB. A case that does not is told
// with its number, its bytes stay under the folder named at the end, and the exit code is 1.
import { mkdtempSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { encodeSeeds } from "../fuzz/corpus.js";
import { runFuzz } from "../fuzz/fuzz-pool.js";

const [cases = 20_000, seed = 1, first = 0] = process.argv.slice(2).map(Number);
const workFolder = mkdtempSync(join(tmpdir(), "washer-noise-fuzz-"));
const seedFolder = join(workFolder, "seeds");
if (!encodeSeeds(seedFolder)) console.log("No ffmpeg: fewer kinds of file are damaged.");
const begun = Date.now();
const result = await runFuzz({
  script: fileURLToPath(new URL("../fuzz/fuzz-child.js", import.meta.url)),
  root: process.cwd(),
  seedFolder,
  workFolder,
  seed,
  firstCase: first,
  caseCount: cases,
  processes: 2,
  ffmpegEvery: 8,
  diagnoseEvery: 10,
  onCase: (done) => {
    if (done % 1000 === 0) console.error(`${done} of ${cases}`);
  },
});
console.log(JSON.stringify({ ...result, faults: result.faults.length }, null, 2));
for (const fault of result.faults) console.log(fault);
console.log(`${((Date.now() - begun) / 1000).toFixed(0)} s; files: ${workFolder}`);
process.exitCode = result.faults.length > 0 ? 1 : 0;
