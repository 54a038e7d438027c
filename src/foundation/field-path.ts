/** Way to a value in parsed JSON: keys and list positions. */
export type FieldPath = readonly PropertyKey[];

/** A path as people write it: `belt.motorPulleyMm`, `drumBearings[1].balls`. */
export const spellPath = (path: FieldPath): string =>
  path
    .map((key) => (typeof key === "number" ? `[${key}]` : `.${String(key)}`))
    .join("")
    .replace(/^\./, "");

/** What stands at the path; undefined when the way ends early. */
export function valueAt(json: unknown, path: FieldPath): unknown {
  let value = json;
  for (const key of path) value = (value as Record<PropertyKey, unknown> | null | undefined)?.[key];
  return value;
}

/** A received value for a message, cut to one short stretch. */
export function showValue(value: unknown): string {
  if (value === undefined) return "nothing";
  const text = JSON.stringify(value);
  return text.length <= 60 ? text : `${text.slice(0, 57)}...`;
}
