import type { z } from "zod";
import { WasherNoiseError } from "../foundation/errors.js";
import { showValue, spellPath, valueAt } from "../foundation/field-path.js";
import { beltSchema, gearsSchema, machineFileSchema, motorSchema } from "./machine-file-schema.js";

const FIELDS: Readonly<Record<string, readonly string[]>> = {
  "": Object.keys(machineFileSchema.shape),
  belt: Object.keys(beltSchema.shape),
  gears: Object.keys(gearsSchema.shape),
  motor: Object.keys(motorSchema.shape),
};

function sentence(issue: z.core.$ZodIssue, json: unknown): string {
  const place = spellPath(issue.path);
  if (issue.code === "unrecognized_keys") {
    const keys = issue.keys.map((key) => `"${key}"`).join(", ");
    const known = FIELDS[place]?.join(", ") ?? "";
    return `${place === "" ? "it" : place} has no field ${keys}; the fields are ${known}.`;
  }
  const subject = place === "" ? "it" : place;
  return `${subject} ${issue.message}, received ${showValue(valueAt(json, issue.path))}.`;
}

/** A `machine-file-invalid` error: file, field path, requirement, value received, all in one line. */
export const machineFileError = (
  name: string,
  complaint: string,
  facts: Record<string, unknown> = {},
): WasherNoiseError =>
  new WasherNoiseError("machine-file-invalid", `Machine file ${name}: ${complaint}`, {
    file: name,
    ...facts,
  });

/** The first thing wrong, and how many more there are. */
export function schemaError(name: string, error: z.ZodError, json: unknown): WasherNoiseError {
  const complaints = error.issues.map((issue) => sentence(issue, json));
  const rest = complaints.length - 1;
  const tail = rest === 0 ? "" : ` (${rest} more field${rest === 1 ? " is" : "s are"} wrong)`;
  return machineFileError(name, `${complaints[0]!}${tail}`, { complaints });
}
