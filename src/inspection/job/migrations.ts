type Json = Readonly<Record<string, unknown>>;

/** How a job of one version becomes one of the next. */
interface Migration {
  readonly from: string;
  readonly to: string;
  /** Moves and renames only; whether the values are right is checked afterwards. */
  readonly migrate: (old: Json) => Json;
}

const isObject = (value: unknown): value is Json =>
  typeof value === "object" && value !== null && !Array.isArray(value);

/** Drops fields that are undefined, so that the file does not fill with them. */
const known = (fields: Json): Json =>
  Object.fromEntries(Object.entries(fields).filter(([, value]) => value !== undefined));

/**
 * Version 0 held the machine's name and age as plain fields, the recordings as `clips`, the ranking as
 * `components` and the findings as an object from check to outcome, all at the time `savedAt`.
 */
function fromVersion0(old: Json): Json {
  const { machine, ageYears, lineHz, complaint, clips, components, verdict, ...others } = old;
  const { character, findings, savedAt, ...rest } = others;
  const file = typeof machine === "string" && /\.json$/i.test(machine);
  return {
    ...rest,
    schema: "washer-noise/job@1",
    machine: known({ [file ? "file" : "id"]: machine, ageYears, lineHz }),
    ...(complaint === undefined ? {} : { complaint: { text: complaint } }),
    recordings: clips ?? [],
    ...(components === undefined
      ? {}
      : { diagnosis: { at: savedAt, verdict, character: character ?? "none", components } }),
    findings: isObject(findings)
      ? Object.entries(findings).map(([check, outcome]) => ({ check, outcome, at: savedAt }))
      : (findings ?? []),
    readings: [],
  };
}

/** One row a version; a file goes through all rows from its own on. */
export const JOB_MIGRATIONS: readonly Migration[] = [
  { from: "washer-noise/job@0", to: "washer-noise/job@1", migrate: fromVersion0 },
];

/** The job brought to the newest version; a version that is not in the table comes back as it is. */
export function migrateJob(json: unknown): unknown {
  let job = json;
  for (const row of JOB_MIGRATIONS) {
    if (isObject(job) && job["schema"] === row.from) job = row.migrate(job);
  }
  return job;
}
