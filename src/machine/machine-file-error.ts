import type { z } from "zod";
import { WasherNoiseError } from "../foundation/errors.js";
import { beltSchema, gearsSchema, machineFileSchema, motorSchema } from "./machine-file-schema.js";

type Path = readonly PropertyKey[];

/** `belt.motorPulleyMm`, `drumBearings[1].balls`. */
const spell = (path: Path): string =>
  path
    .map((key) => (typeof key === "number" ? `[${key}]` : `.${String(key)}`))
    .join("")
    .replace(/^\./, "");

function valueAt(json: unknown, path: Path): unknown {
  let value = json;
  for (const key of path) value = (value as Record<PropertyKey, unknown> | undefined)?.[key];
  return value;
}

function show(value: unknown): string {
  if (value === undefined) return "nothing";
  const text = JSON.stringify(value);
  return text.length <= 60 ? text : `${text.slice(0, 57)}...`;
}

const FIELDS: Readonly<Record<string, readonly string[]>> = {
  "": Object.keys(machineFileSchema.shape),
  belt: Object.keys(beltSchema.shape),
  gears: Object.keys(gearsSchema.shape),
  motor: Object.keys(motorSchema.shape),
};

function sentence(issue: z.core.$ZodIssue, json: unknown): string {
  const place = spell(issue.path);
  if (issue.code === "unrecognized_keys") {
    const keys = issue.keys.map((key) => `"${key}"`).join(", ");
    const known = FIELDS[place]?.join(", ") ?? "";
    return `${place === "" ? "it" : place} has no field ${keys}; the fields are ${known}.`;
  }
  const subject = place === "" ? "it" : place;
  return `${subject} ${issue.message}, received ${show(valueAt(json, issue.path))}.`;
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
