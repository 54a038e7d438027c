import { z } from "zod";
import { PHASES } from "./choices.js";
import { UsageError } from "./shared-options.js";

// What several commands check alike. Loaded when a command runs: the checking library would cost --help most
// of its time.

/** A number typed as an option's value, checked against its limits. */
export const numberIn = (name: string, low: number, high: number, unit: string) =>
  z
    .string()
    .optional()
    .transform((text, context) => {
      if (text === undefined) return undefined;
      const value = Number(text);
      if (text.trim() !== "" && value >= low && value <= high) return value;
      context.addIssue({
        code: "custom",
        message: `${name} must be a number from ${low} to ${high}${unit && ` ${unit}`}, received "${text}".`,
      });
      return z.NEVER;
    });

export const machineOptionsSchema = z.object({
  machine: z.string().optional(),
  phase: z.enum(PHASES).default("unknown"),
  drumRpm: numberIn("--drum-rpm", 20, 2000, "rpm"),
  motorRpm: numberIn("--motor-rpm", 20, 25000, "rpm"),
  lineHz: z
    .enum(["50", "60"])
    .optional()
    .transform((text) => (text === undefined ? undefined : (Number(text) as 50 | 60))),
  age: numberIn("--age", 0, 60, "years"),
  json: z.boolean().default(false),
});

export type MachineOptions = z.infer<typeof machineOptionsSchema>;

/** Checks raw options; throws the first complaint as one line. */
export function parseOptions<T extends z.ZodType>(schema: T, raw: unknown): z.infer<T> {
  const result = schema.safeParse(raw);
  if (result.success) return result.data;
  throw new UsageError(result.error.issues[0]!.message);
}

export const htmlOptionSchema = z.object({
  html: z
    .string()
    .regex(/\.html?$/i, {
      // A recording named by mistake would be overwritten.
      error: ({ input }) =>
        `--html must name a file that ends in .html, received "${String(input)}".`,
    })
    .optional(),
});

export const htmlOptionsSchema = htmlOptionSchema.extend({ audio: z.boolean().default(true) });

export type HtmlOptions = z.infer<typeof htmlOptionsSchema>;

export const limitOptionsSchema = z.object({
  maxMinutes: numberIn("--max-minutes", 0.1, 10_080, "minutes"),
  maxMegabytes: numberIn("--max-megabytes", 0.001, 1_000_000, "megabytes"),
});

export type LimitOptions = Partial<z.infer<typeof limitOptionsSchema>>;

export const priceOptionsShape = {
  price: z.array(z.string()).default([]),
  labourPerHour: numberIn("--labour-per-hour", 0, 10_000, ""),
  callOut: numberIn("--call-out", 0, 10_000, ""),
  newPrice: numberIn("--new-price", 1, 100_000, ""),
  tripCost: numberIn("--trip-cost", 0, 10_000, ""),
  returnPercent: numberIn("--return-percent", 0, 100, "%"),
  currency: z.string().max(8).optional(),
  hardAccess: z.boolean().optional(),
  known: z.array(z.string()).default([]),
};

export type PriceOptions = z.infer<z.ZodObject<typeof priceOptionsShape>>;
