import type { Command } from "commander";
import type { LimitOptions } from "./checked-options.js";

/** `--max-minutes` and `--max-megabytes`, for commands that read recordings. */
export const addLimitOptions = (command: Command): Command =>
  command
    .option("--max-minutes <n>", "longest recording accepted (default: 240)")
    .option("--max-megabytes <n>", "largest file accepted (default: 2048)");

/** What a recording may have at most; what is not told is left to the library. */
export const limitsOf = ({
  maxMinutes,
  maxMegabytes,
}: LimitOptions): { maxSeconds?: number; maxBytes?: number } => ({
  ...(maxMinutes === undefined ? {} : { maxSeconds: 60 * maxMinutes }),
  ...(maxMegabytes === undefined ? {} : { maxBytes: Math.round(maxMegabytes * 1024 * 1024) }),
});
