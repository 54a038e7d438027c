import type { Command } from "commander";
import { z } from "zod";
import { numberIn } from "./shared-options.js";

/** `--max-minutes` and `--max-megabytes`, for commands that read recordings. */
export const addLimitOptions = (command: Command): Command =>
  command
    .option("--max-minutes <n>", "longest recording accepted (default: 240)")
    .option("--max-megabytes <n>", "largest file accepted (default: 2048)");

export const limitOptionsSchema = z.object({
  maxMinutes: numberIn("--max-minutes", 0.1, 10_080, "minutes"),
  maxMegabytes: numberIn("--max-megabytes", 0.001, 1_000_000, "megabytes"),
});

export type LimitOptions = Partial<z.infer<typeof limitOptionsSchema>>;

/** What a recording may have at most; what is not told is left to the library. */
export const limitsOf = ({
  maxMinutes,
  maxMegabytes,
}: LimitOptions): { maxSeconds?: number; maxBytes?: number } => ({
  ...(maxMinutes === undefined ? {} : { maxSeconds: 60 * maxMinutes }),
  ...(maxMegabytes === undefined ? {} : { maxBytes: Math.round(maxMegabytes * 1024 * 1024) }),
});
