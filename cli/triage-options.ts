import { z } from "zod";
import {
  htmlOptionsSchema,
  limitOptionsSchema,
  machineOptionsSchema,
  numberIn,
  parseOptions,
} from "./checked-options.js";

const shard = z
  .string()
  .optional()
  .transform((text, context) => {
    if (text === undefined) return undefined;
    const [, first, second] = /^(\d{1,6})\/(\d{1,6})$/.exec(text) ?? [];
    const [index, count] = [Number(first), Number(second)];
    if (index >= 1 && index <= count) return { index, count };
    context.addIssue({
      code: "custom",
      message: `--shard must be PART/PARTS, such as 3/8, with PART from 1 to PARTS, received "${text}".`,
    });
    return z.NEVER;
  });

const triageOptionsSchema = machineOptionsSchema.extend({
  ...htmlOptionsSchema.shape,
  ...limitOptionsSchema.shape,
  intake: z.string().min(1).optional(),
  csv: z.boolean().default(false),
  workers: numberIn("--workers", 1, 256, "threads").refine(
    (count) => count === undefined || Number.isInteger(count),
    { error: "--workers must be a whole number." },
  ),
  clipSeconds: numberIn("--clip-seconds", 0.1, 86_400, "seconds"),
  work: z.string().min(1).optional(),
  shard,
  merge: z.boolean().default(false),
});

export type TriageCommandOptions = z.infer<typeof triageOptionsSchema>;

/** Options of `triage`, checked. */
export const checkTriageOptions = (raw: unknown): TriageCommandOptions =>
  parseOptions(triageOptionsSchema, raw);
