import { z } from "zod";
import { numberIn, parseOptions } from "./checked-options.js";
import { CODECS } from "./encode-sound.js";

const whole = <T extends z.ZodType<number>>(name: string, schema: T) =>
  schema.refine(Number.isInteger, `${name} must be a whole number.`);

/** What `synthesize` was asked for, checked. */
const synthesizeOptionsSchema = z.object({
  out: z.string(),
  count: whole("--count", numberIn("--count", 1, 100_000, "recordings").default(20)),
  seed: whole("--seed", numberIn("--seed", 0, 2_000_000_000, "(a whole number)").default(1)),
  machine: z.string().optional(),
  phase: z.string().optional(),
  fault: z.string().optional(),
  seconds: numberIn("--seconds", 1, 600, "seconds").default(15),
  normalShare: numberIn("--normal-share", 0, 1, "").optional(),
  notWasherShare: numberIn("--not-washer-share", 0, 1, "").optional(),
  faultDb: numberIn("--fault-db", -40, 60, "dB").optional(),
  name: z
    .string()
    .regex(/^[\w-]+$/, "--name must be letters, digits, - and _ only.")
    .default("clip"),
  codec: z.enum(CODECS).default("wav"),
});

export type SynthesizeOptions = z.infer<typeof synthesizeOptionsSchema>;

export const checkSynthesizeOptions = (raw: unknown): SynthesizeOptions =>
  parseOptions(synthesizeOptionsSchema, raw);
