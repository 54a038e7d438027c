import { z } from "zod";
import { MACHINE_IDS, PHASES } from "../../machine/words.js";
import type { IntakeColumnName } from "./intake-columns.data.js";

const oneOf = <const Words extends readonly [string, ...string[]]>(words: Words) =>
  z
    .string()
    .toLowerCase()
    .pipe(z.enum(words, { error: `must be one of ${words.join(", ")}` }));

/** A number as sheets write it, with a decimal point or comma. */
const numberFrom = (low: number, high: number, unit: string) => {
  const error = `must be a number from ${low} to ${high}${unit}`;
  return z
    .string()
    .transform((text) => Number(text.replace(",", ".")))
    .pipe(z.number({ error }).min(low, { error }).max(high, { error }));
};

const yesOrNo = z
  .string()
  .toLowerCase()
  .pipe(
    z.enum(["yes", "y", "true", "1", "x", "no", "n", "false", "0"], { error: "must be yes or no" }),
  )
  .transform((word) => ["yes", "y", "true", "1", "x"].includes(word));

const LEAKS = ["no", "none", "yes", "rear", "under", "front", "rust", "oil"] as const;

/** How each cell is read; an empty cell is not told and is not read at all. */
export const INTAKE_CELLS = {
  file: z.string(),
  ticket: z.string(),
  machine: oneOf(MACHINE_IDS),
  age_years: numberFrom(0, 60, " years"),
  phase: oneOf(PHASES),
  line_hz: z
    .enum(["50", "60"], { error: "must be 50 or 60" })
    .transform((text) => (text === "50" ? 50 : 60)),
  drum_rpm: numberFrom(20, 2000, " rpm"),
  motor_rpm: numberFrom(20, 25_000, " rpm"),
  complaint: z.string().max(4000, { error: "must be at most 4000 characters" }),
  moved: yesOrNo,
  new: yesOrNo,
  leak: oneOf(LEAKS),
  loads_per_week: numberFrom(0, 100, ""),
} as const satisfies Record<IntakeColumnName, z.ZodType>;

/** What a row tells, by column; what was left empty or was wrong is missing. */
export type IntakeFacts = {
  -readonly [Column in IntakeColumnName]?: z.infer<(typeof INTAKE_CELLS)[Column]>;
};
