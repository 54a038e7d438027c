import { z } from "zod";
import { numberIn, parseOptions } from "./checked-options.js";
import { KINDS } from "./choices.js";

const word = z.string().optional();

const meterOptionsSchema = z.object({
  part: z.string({ error: "--part is missing: name what is measured, such as drain-pump." }),
  reading: z.array(z.string(), {
    error: '--reading is missing: type what the meter shows, such as 5400, 5.4k or "OL".',
  }),
  kind: z.enum(KINDS).optional(),
  printed: word,
  printedOn: z.enum(["machine", "part"]).optional(),
  tolerance: word,
  accuracy: word,
  resolution: word,
  leads: word,
  fitted: z.enum(["original", "other-make"]).optional(),
  temperature: word,
  table: word,
  age: numberIn("--age", 0, 60, "years"),
  job: word,
  json: z.boolean().default(false),
});

export type MeterOptions = z.infer<typeof meterOptionsSchema>;

export const checkMeterOptions = (raw: unknown): MeterOptions =>
  parseOptions(meterOptionsSchema, raw);
