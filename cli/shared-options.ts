import { Option, type Command } from "commander";
import { z } from "zod";

// Spelled out here so that --help need not load the library.
const PHASES = ["fill", "wash", "drain", "spin", "coast", "hand-spin", "unknown"] as const;

/** Options that `diagnose` and `triage` share. All may be left out. */
export function addMachineOptions(command: Command): Command {
  return command
    .option(
      "--machine <id|file>",
      "kind of washer: a built-in id (see `washer-noise frequencies --help`) or a machine file (JSON)",
    )
    .addOption(
      new Option("--phase <phase>", "what the machine does in the recording").choices(PHASES),
    )
    .option("--drum-rpm <n>", "drum speed in turns per minute, when you know it")
    .option("--motor-rpm <n>", "motor speed in turns per minute, when you know it")
    .addOption(new Option("--line-hz <hz>", "mains frequency").choices(["50", "60"]))
    .option("--age <years>", "age of the machine in years")
    .option("--json", "print the answer as JSON");
}

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

/** Wrong usage: one line on stderr, exit code 2. */
export class UsageError extends Error {
  override readonly name = "UsageError";
}
