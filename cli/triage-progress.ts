/** How far a run is, as the library tells it. */
interface Done {
  readonly all: number;
  readonly before: number;
  readonly now: number;
}

const SECONDS_BETWEEN = { terminal: 0.25, piped: 30 } as const;

/** 95 → "1 min 35 s"; whole hours and minutes for longer ones. */
export function durationWords(seconds: number): string {
  const whole = Math.round(seconds);
  if (whole < 60) return `${whole} s`;
  if (whole < 3600) return `${Math.floor(whole / 60)} min ${whole % 60} s`;
  return `${Math.floor(whole / 3600)} h ${Math.floor((whole % 3600) / 60)} min`;
}

const rateWords = (perSecond: number): string =>
  perSecond >= 1 ? `${perSecond.toFixed(1)} a second` : `${(60 * perSecond).toFixed(1)} a minute`;

/** "37 of 200, 2.1 a second, 1 min 18 s left": rate and time left count this run alone. */
export function progressWords({ all, before, now }: Done, seconds: number): string {
  const done = `${before + now} of ${all}`;
  if (now === 0 || seconds <= 0) return `${done} ...`;
  const rate = now / seconds;
  const left = durationWords((all - before - now) / rate);
  return `${done}, ${rateWords(rate)}, ${left} left`;
}

export interface TriageMeter {
  say(done: Done): void;
  done(): void;
}

/**
 * Progress on stderr: one line that is written over in a terminal; elsewhere, as in the log of a batch
 * system, a new line every half minute, so that short runs stay quiet.
 */
export function createTriageMeter(): TriageMeter {
  const terminal = process.stderr.isTTY;
  const between = 1000 * (terminal ? SECONDS_BETWEEN.terminal : SECONDS_BETWEEN.piped);
  const started = Date.now();
  let last = terminal ? 0 : started;
  let shown = false;
  return {
    say(done) {
      const time = Date.now();
      if (time - last < between) return;
      last = time;
      const text = progressWords(done, (time - started) / 1000);
      process.stderr.write(terminal ? `\r\u001b[K${text}` : `washer-noise: ${text}\n`);
      shown = true;
    },
    done() {
      if (terminal && shown) process.stderr.write("\r\u001b[K");
    },
  };
}
