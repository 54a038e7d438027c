import { z } from "zod";
import { htmlOptionSchema, limitOptionsSchema, parseOptions } from "./checked-options.js";

const optionsSchema = z.object({
  tell: z.enum(["machine-and-phase", "nothing"]),
  failUnder: z.array(z.string()).default([]),
  json: z.boolean().default(false),
  ...htmlOptionSchema.shape,
  ...limitOptionsSchema.shape,
});

export const checkEvaluateOptions = (raw: unknown) => parseOptions(optionsSchema, raw);
