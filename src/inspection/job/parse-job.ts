import { z } from "zod";
import { WasherNoiseError } from "../../foundation/errors.js";
import { showValue, spellPath, valueAt } from "../../foundation/field-path.js";
import { JOB_SCHEMA, jobSchema, type Job } from "./job.js";
import { migrateJob } from "./migrations.js";

const UNTOUCHED = "The file was left as it is.";

/** A `job-file-invalid` error that names the file, the fault and the remedy. */
export const jobFileError = (
  name: string,
  complaint: string,
  facts: Record<string, unknown> = {},
): WasherNoiseError =>
  new WasherNoiseError("job-file-invalid", `Job file ${name}: ${complaint} ${UNTOUCHED}`, {
    file: name,
    ...facts,
  });

function sentence(issue: z.core.$ZodIssue, json: unknown): string {
  const place = spellPath(issue.path) || "it";
  if (issue.code === "unrecognized_keys") {
    return `${place} has no field ${issue.keys.map((key) => `"${key}"`).join(", ")}`;
  }
  // Sections of other rooms may lack own words for a requirement.
  const requirement = /^must /.test(issue.message)
    ? issue.message
    : `must be right (${issue.message.replace(/^Invalid input: /, "").replace(/, received .*$/, "")})`;
  return `${place} ${requirement}, received ${showValue(valueAt(json, issue.path))}`;
}

/** Version number of `washer-noise/job@N`; null for anything else. */
function versionOf(json: unknown): number | null {
  const schema = valueAt(json, ["schema"]);
  const match = typeof schema === "string" ? /^washer-noise\/job@(\d{1,6})$/.exec(schema) : null;
  return match ? Number(match[1]) : null;
}

const CURRENT = versionOf({ schema: JOB_SCHEMA })!;

/**
 * A job from the parsed JSON of a job file; `name` is how the file is called in messages.
 *
 * An older version is migrated. Throws `job-file-invalid`, naming the field, what it must be, what was
 * received and the remedy, for a file of another kind, of a newer version, or damaged.
 */
export function parseJob(json: unknown, name: string): Job {
  const version = versionOf(json);
  if (version === null) {
    const received = showValue(valueAt(json, ["schema"]));
    throw jobFileError(
      name,
      `schema must be "${JOB_SCHEMA}", received ${received}. It is no job file; name another.`,
      { field: "schema" },
    );
  }
  if (version > CURRENT) {
    throw jobFileError(
      name,
      `schema is version ${version}, and this program knows up to ${CURRENT}. Use a newer washer-noise.`,
      { field: "schema", version },
    );
  }
  const migrated = migrateJob(json);
  const result = jobSchema.safeParse(migrated);
  if (result.success) return result.data;
  const { issues } = result.error;
  const rest = issues.length - 1;
  const more = rest === 0 ? "" : ` (${rest} more field${rest === 1 ? " is" : "s are"} wrong)`;
  throw jobFileError(
    name,
    `${sentence(issues[0]!, migrated)}${more}. Mend that field, or take a copy from before it broke.`,
    { field: spellPath(issues[0]!.path), complaints: issues.map((one) => sentence(one, migrated)) },
  );
}

/** A job from the text of a job file. Throws as `parseJob`, also when the text is not JSON. */
export function parseJobText(text: string, name: string): Job {
  let json: unknown;
  try {
    // Some editors put a byte order mark first.
    json = JSON.parse(text.replace(/^\uFEFF/, ""));
  } catch (error) {
    const cause = text.trim() === "" ? "it is empty" : (error as Error).message;
    throw jobFileError(
      name,
      `it is not JSON (${showValue(cause).slice(1, -1)}). Take a copy from before it broke.`,
    );
  }
  return parseJob(json, name);
}
