/** Whether bold text may be used on stdout (any non-empty NO_COLOR says no). */
export const colorOnStdout = (): boolean =>
  process.stdout.isTTY && !process.env["NO_COLOR"] && process.env["TERM"] !== "dumb";

/** Columns to write for: the terminal's, at most 110; 100 when piped. */
export const screenWidth = (): number =>
  Math.max(60, Math.min(110, process.stdout.isTTY ? process.stdout.columns : 100));

export interface Progress {
  say(text: string): void;
  done(): void;
}

/**
 * Progress on stderr, only in a terminal and only for work that lasts longer than a second.
 * The line is erased when the work is done.
 */
export function createProgress(): Progress {
  if (!process.stderr.isTTY) return { say: () => undefined, done: () => undefined };
  const started = Date.now();
  let shown = false;
  return {
    say(text) {
      if (Date.now() - started < 1000) return;
      // A file name may hold control characters; a terminal must not obey them.
      process.stderr.write(`\r\u001b[K${text.replace(/\p{Cc}/gu, "?")}`);
      shown = true;
    },
    done() {
      if (shown) process.stderr.write("\r\u001b[K");
    },
  };
}
