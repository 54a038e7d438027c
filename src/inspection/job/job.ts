import { z } from "zod";
import { pricesSchema } from "../economics/prices.js";
import { meterReadingSchema } from "../meter/meter-reading.js";
import { COMPONENTS, MACHINE_IDS, PHASES, VERDICTS, CHARACTERS } from "../../machine/words.js";

/** Version that this program writes. */
export const JOB_SCHEMA = "washer-noise/job@1";

const text = z.string({ error: "must be a text" });
const someText = text.min(1, { error: "must not be empty" }).max(4000, {
  error: "must be at most 4000 characters",
});

const numberIn = (low: number, high: number, unit: string) => {
  const error = `must be a number from ${low} to ${high}${unit && ` ${unit}`}`;
  return z.number({ error }).min(low, { error }).max(high, { error });
};

const oneOf = <const Words extends readonly [string, ...string[]]>(words: Words) =>
  z.enum(words, { error: `must be one of ${words.join(", ")}` });

/** Date and time with a zone, as `2026-03-01T09:30:00Z`. */
const instant = z.iso.datetime({
  offset: true,
  error: "must be a date and time such as 2026-03-01T09:30:00Z",
});

const sha256 = z
  .string({ error: "must be a SHA-256 of 64 hexadecimal digits" })
  .regex(/^[0-9a-f]{64}$/, { error: "must be a SHA-256 of 64 small hexadecimal digits" });

/** A file by its path from the job file's folder, with `/` between folders. */
const file = someText.refine((path) => !path.includes("\0"), {
  error: "must be a path from the job file's folder",
});

const group = <Shape extends z.ZodRawShape>(shape: Shape) =>
  z.strictObject(shape, { error: `must be an object with ${Object.keys(shape).join(", ")}` });

const list = <Row extends z.ZodType>(row: Row) => z.array(row, { error: "must be a list" });

/** Which machine it is. A machine file wins over `id`; neither: kind not known. */
export const jobMachineSchema = group({
  id: oneOf(MACHINE_IDS).optional(),
  file: file.optional(),
  label: someText.optional(),
  ageYears: numberIn(0, 60, "years").optional(),
  lineHz: z.union([z.literal(50), z.literal(60)], { error: "must be 50 or 60" }).optional(),
});

/** What the customer said: own words, and answers to the questions asked, by the question's name. */
export const jobComplaintSchema = group({
  text: someText.optional(),
  answers: z
    .record(z.string(), z.union([z.string(), z.number(), z.boolean(), z.array(z.string())]), {
      error: "must be an object of answers: text, number, true or false, or a list of words",
    })
    .optional(),
});

/** One recording; the hash says which, the path only where it lay. */
export const jobRecordingSchema = group({
  file,
  sha256,
  phase: oneOf(PHASES),
  durationSeconds: numberIn(0, 86_400, "s"),
});

/** What the sound said, when last asked. */
export const jobDiagnosisSchema = group({
  at: instant,
  verdict: group({ label: oneOf(VERDICTS), text }),
  character: oneOf(CHARACTERS),
  components: list(
    group({
      component: oneOf(COMPONENTS),
      probability: numberIn(0, 1, ""),
      condition: someText.optional(),
    }),
  ).min(1, { error: "must hold at least one part" }),
});

/** A hand test and how it turned out; words from the table of hand tests. */
export const jobFindingSchema = group({
  check: someText,
  outcome: someText,
  at: instant,
  note: someText.optional(),
});

/** What to do next, as it was advised after the last finding. */
export const jobPlanSchema = group({
  at: instant,
  audience: oneOf(["customer", "technician", "licensed"]),
  open: z.enum(["front", "rear", "top", "underneath"]).nullable(),
  stop: someText.nullable(),
  checks: list(someText),
});

/**
 * One machine's job: everything a visit needs and leaves behind.
 *
 * `readings`, `prices` and `after` are written by `meter`, by the repair estimate and by `compare`.
 */
export const jobSchema = group({
  schema: z.literal(JOB_SCHEMA, { error: `must be "${JOB_SCHEMA}"` }),
  machine: jobMachineSchema,
  complaint: jobComplaintSchema.optional(),
  recordings: list(jobRecordingSchema),
  diagnosis: jobDiagnosisSchema.optional(),
  findings: list(jobFindingSchema),
  readings: list(meterReadingSchema),
  prices: pricesSchema.optional(),
  plan: jobPlanSchema.optional(),
  after: z.looseObject({}, { error: "must be an object" }).optional(),
});

export type Job = z.infer<typeof jobSchema>;
export type JobRecording = Job["recordings"][number];
export type JobFinding = Job["findings"][number];
export type JobPlan = NonNullable<Job["plan"]>;

/** A job about which nothing is known yet. */
export const emptyJob = (): Job => ({
  schema: JOB_SCHEMA,
  machine: {},
  recordings: [],
  findings: [],
  readings: [],
});

/**
 * The job as it stands in the file: fields in the schema's order, two spaces, a line end at the end,
 * so that a change of one finding is a change of a few lines.
 */
export const jobText = (job: Job): string => `${JSON.stringify(jobSchema.parse(job), null, 2)}\n`;
