import { fork, type ChildProcess } from "node:child_process";
import { writeFileSync } from "node:fs";
import { dirname, join } from "node:path";

/** How a command ended and what it said. */
export interface Ran {
  readonly status: number | null;
  readonly stdout: string;
  readonly stderr: string;
}

/** A process that runs `cli/main` again and again, each time with other words. */
export interface CommandLine {
  readonly run: (folder: string, ...args: string[]) => Promise<Ran>;
  readonly close: () => void;
}

// `main` is evaluated anew for each command, since the question mark makes it another module; what it
// imports stays loaded, which is most of what a process costs.
const LOOP = `
let count = 0;
process.stdout.setMaxListeners(0);
process.on("message", async ({ main, folder, args }) => {
  const said = { stdout: "", stderr: "" };
  const own = { stdout: process.stdout.write, stderr: process.stderr.write };
  for (const name of ["stdout", "stderr"]) {
    process[name].write = (chunk, encoding, done) => {
      said[name] += Buffer.from(chunk).toString();
      (typeof encoding === "function" ? encoding : done)?.();
      return true;
    };
  }
  process.chdir(folder);
  process.argv = [process.execPath, main, ...args];
  process.exitCode = undefined;
  await import(main + "?" + count++);
  const status = process.exitCode ?? 0;
  process.exitCode = undefined;
  for (const name of ["stdout", "stderr"]) process[name].write = own[name];
  process.send({ status, ...said });
});
`;

function answerOf(child: ChildProcess, order: object): Promise<Ran> {
  return new Promise((resolve, reject) => {
    const fail = (code: number | null): void => {
      reject(new Error(`the process of the commands ended with ${code}`));
    };
    child.once("exit", fail);
    child.once("message", (message) => {
      child.off("exit", fail);
      resolve(message as Ran);
    });
    child.send(order);
  });
}

/**
 * Opens one process for many commands, one after the other, for tests of what a command says and keeps.
 * What a process of its own is needed for (signals, streams that end, time to start) takes `spawn`.
 *
 * @param main compiled `cli/main`, as `compileClosure` gives it
 */
export function openCommandLine(main: string): CommandLine {
  const loop = join(dirname(main), "command-line-loop.mjs");
  writeFileSync(loop, LOOP);
  const child = fork(loop, { stdio: ["ignore", "ignore", "inherit", "ipc"], execArgv: [] });
  return {
    run: (folder, ...args) => answerOf(child, { main, folder, args }),
    close: () => child.disconnect(),
  };
}
