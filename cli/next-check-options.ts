import { z } from "zod";
import { htmlOptionSchema, numberIn, parseOptions, priceOptionsShape } from "./checked-options.js";
import { AUDIENCES } from "./choices.js";

const optionsSchema = z.object({
  found: z.array(z.string()).default([]),
  undo: z.boolean().default(false),
  audience: z.enum(AUDIENCES).default("technician"),
  machine: z.string().optional(),
  age: numberIn("--age", 0, 60, "years"),
  ...priceOptionsShape,
  json: z.boolean().default(false),
  ...htmlOptionSchema.shape,
});

export const checkNextCheckOptions = (raw: unknown) => parseOptions(optionsSchema, raw);
