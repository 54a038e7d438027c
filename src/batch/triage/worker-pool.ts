import { setFlagsFromString } from "node:v8";
import { Worker } from "node:worker_threads";
import { WasherNoiseError } from "../../foundation/errors.js";

/** Why a worker gave no result for its task. */
export type Loss =
  | { readonly why: "died"; readonly message: string }
  | { readonly why: "too-slow"; readonly seconds: number };

export interface PoolOptions {
  /** Script of a worker: takes one message, answers with one message. */
  readonly script: URL;
  readonly workers: number;
  /** Longest time for one task; then its worker is ended. */
  readonly secondsPerTask: number;
  readonly signal?: AbortSignal | undefined;
}

export interface Outcome<Task, Result> {
  readonly task: Task;
  readonly result: Result | Loss;
}

export const isLoss = (result: object): result is Loss => "why" in result;

/**
 * Old space that a thread may fill before its first full garbage collection, in megabytes. A thread that
 * starts small collects several times a recording, on cores that other threads want.
 */
const FIRST_OLD_SPACE_MEGABYTES = 128;

const setFirstOldSpace = (megabytes: number): void => {
  setFlagsFromString(`--initial-old-space-size=${megabytes}`);
};

let startingWorkers = 0;

function startWorker(script: URL): Worker {
  // Read when a thread's heap is made, and by nothing that runs already; 0 is V8's own choice again.
  setFirstOldSpace(FIRST_OLD_SPACE_MEGABYTES);
  startingWorkers++;
  // Flags of `node -e` would be handed down, and a script in a file refuses them.
  const worker = new Worker(script, { execArgv: [] });
  worker.once("online", () => {
    if (--startingWorkers === 0) setFirstOldSpace(0);
  });
  return worker;
}

/** A thread that is made when first needed and made anew after it was lost. */
class Seat<Task extends object, Result extends object> {
  #worker: Worker | null = null;

  constructor(
    readonly script: URL,
    readonly seconds: number,
  ) {}

  run(task: Task): Promise<Outcome<Task, Result>> {
    const worker = (this.#worker ??= startWorker(this.script));
    return new Promise((resolve) => {
      const onError = (error: Error): void => {
        finish({ why: "died", message: error.message });
      };
      const onExit = (code: number): void => {
        finish({ why: "died", message: `its thread ended with code ${code}` });
      };
      const finish = (result: Result | Loss): void => {
        clearTimeout(timer);
        worker.off("message", finish).off("error", onError).off("exit", onExit);
        if (isLoss(result)) {
          this.#worker = null;
          // An error may still come from a thread that is being ended.
          worker.on("error", () => undefined);
          void worker.terminate();
        }
        resolve({ task, result });
      };
      const timer = setTimeout(() => {
        finish({ why: "too-slow", seconds: this.seconds });
      }, 1000 * this.seconds);
      worker.on("message", finish).on("error", onError).on("exit", onExit);
      worker.postMessage(task);
    });
  }

  async close(): Promise<void> {
    const worker = this.#worker;
    this.#worker = null;
    await worker?.terminate();
  }
}

const cancelled = (): WasherNoiseError =>
  new WasherNoiseError("cancelled", "Stopped before all recordings were done.");

/** Settles when the signal does; `off` lets go of the signal. */
function whenAborted(signal: AbortSignal | undefined): {
  readonly aborted: Promise<"aborted">;
  off(): void;
} {
  let listener = (): void => undefined;
  const aborted = new Promise<"aborted">((resolve) => {
    listener = () => {
      resolve("aborted");
    };
    if (signal?.aborted) listener();
    signal?.addEventListener("abort", listener, { once: true });
  });
  return {
    aborted,
    off: () => {
      signal?.removeEventListener("abort", listener);
    },
  };
}

/**
 * Runs tasks on worker threads and yields results as they come, in any order.
 *
 * A task is taken from `tasks` only when a thread is free, so memory holds as many as there are
 * threads. A thread that dies or takes too long costs its own task: a `Loss` comes in its place and a
 * new thread sits down. Ending the loop early, or the signal, ends all threads.
 *
 * Throws `cancelled` when the signal comes.
 */
export async function* runPool<Task extends object, Result extends object>(
  tasks: AsyncIterable<Task>,
  { script, workers, secondsPerTask, signal }: PoolOptions,
): AsyncGenerator<Outcome<Task, Result>> {
  const source = tasks[Symbol.asyncIterator]();
  const seats = Array.from(
    { length: workers },
    () => new Seat<Task, Result>(script, secondsPerTask),
  );
  const free = [...seats];
  const busy = new Map<
    Seat<Task, Result>,
    Promise<{ seat: Seat<Task, Result>; outcome: Outcome<Task, Result> }>
  >();
  const { aborted, off } = whenAborted(signal);
  let more = true;
  try {
    while (more || busy.size > 0) {
      while (more && free.length > 0) {
        const next = await Promise.race([source.next(), aborted]);
        if (next === "aborted") throw cancelled();
        if (next.done) {
          more = false;
          break;
        }
        const seat = free.pop()!;
        busy.set(
          seat,
          seat.run(next.value).then((outcome) => ({ seat, outcome })),
        );
      }
      if (busy.size === 0) break;
      const first = await Promise.race([...busy.values(), aborted]);
      if (first === "aborted") throw cancelled();
      busy.delete(first.seat);
      free.push(first.seat);
      yield first.outcome;
    }
  } finally {
    off();
    await Promise.all(seats.map((seat) => seat.close()));
    await source.return?.();
  }
}
