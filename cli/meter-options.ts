import { z } from "zod";
import { numberIn } from "./shared-options.js";

// Spelled out here so that --help need not load the library.
export const KINDS = [
  "resistance",
  "closed",
  "open",
  "windings",
  "capacitor",
  "sensor",
  "earth",
] as const;

const word = z.string().optional();

export const meterOptionsSchema = z.object({
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
