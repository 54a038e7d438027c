/* eslint-disable no-console */
// Kills diagnose --job, next-check and triage with -9 at random moments and looks whether what stood on the
// disk before is whole:
//   npm run kill:nightly [-- ROUNDS [SEED]]       default 100 rounds each
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { killDiagnose, killNextCheck, killTriage } from "../reliability/kill-rounds.js";

const [rounds = 100, seed = 1] = process.argv.slice(2).map(Number);
const main = fileURLToPath(new URL("../../cli/main.js", import.meta.url));
const commands = {
  "diagnose --job": killDiagnose,
  "next-check": killNextCheck,
  triage: killTriage,
};
for (const [name, kill] of Object.entries(commands)) {
  const folder = mkdtempSync(join(tmpdir(), "washer-noise-kill-"));
  const { killed, writing, changed, faults } = await kill({ main, folder, rounds, seed });
  console.log(
    `${name}: ${rounds} rounds, ${killed} killed while running, ${writing} of them while writing, file changed in ${changed}, ${faults.length} faults`,
  );
  for (const fault of faults) console.log(`  ${fault}`);
  if (faults.length > 0) process.exitCode = 1;
  rmSync(folder, { recursive: true, force: true });
}
