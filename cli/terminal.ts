/** Whether bold text may be used on stdout (any non-empty NO_COLOR says no). */
export const colorOnStdout = (): boolean =>
  process.stdout.isTTY && !process.env["NO_COLOR"] && process.env["TERM"] !== "dumb";

/** Columns to write for, 60 to 110: the terminal's; when piped what COLUMNS says, else 100. */
export function screenWidth(): number {
  const told = Number(process.env["COLUMNS"]);
  const wanted = process.stdout.isTTY ? process.stdout.columns : Math.floor(told);
  return Math.max(60, Math.min(110, wanted > 0 ? wanted : 100));
}

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
      // A file name may hold control characters; a terminal must not obey them. A line that wraps could
      // not be erased again.
      const line = text.replace(/\p{Cc}/gu, "?").slice(0, (process.stderr.columns || 80) - 1);
      process.stderr.write(`\r\u001b[K${line}`);
      shown = true;
    },
    done() {
      if (shown) process.stderr.write("\r\u001b[K");
    },
  };
}
