/** A column of the intake sheet that the program understands. */
export interface IntakeColumn {
  readonly column: string;
  /** Other headings that mean the same; case, blanks and hyphens do not matter. */
  readonly also: readonly string[];
  readonly holds: string;
}

/** Columns of the intake sheet. Only `file` must be there. */
export const INTAKE_COLUMNS = [
  {
    column: "file",
    also: ["clip", "recording", "filename", "file_name"],
    holds: "the recording: its name, or its path from the folder given",
  },
  {
    column: "ticket",
    also: ["customer", "customer_id", "ticket_id", "id", "case", "job"],
    holds: "customer or ticket, any text",
  },
  {
    column: "machine",
    also: ["machine_id", "kind"],
    holds: "a built-in machine id, such as front-load",
  },
  { column: "age_years", also: ["age"], holds: "age of the machine, 0 to 60 years" },
  { column: "phase", also: [], holds: "what the machine does in the recording" },
  { column: "line_hz", also: ["mains_hz"], holds: "mains frequency, 50 or 60" },
  { column: "drum_rpm", also: ["rpm"], holds: "drum speed, 20 to 2000 turns a minute" },
  { column: "motor_rpm", also: [], holds: "motor speed, 20 to 25000 turns a minute" },
  {
    column: "complaint",
    also: ["words", "complaint_words", "description", "customer_words"],
    holds: "what the customer says, in own words (English)",
  },
  {
    column: "moved",
    also: ["moved_or_new", "moved_recently", "just_moved"],
    holds: "yes or no: moved or put up in the last month",
  },
  { column: "new", also: ["new_machine"], holds: "yes or no: less than a month old" },
  {
    column: "leak",
    also: ["water"],
    holds: "no, yes, rear, under, front, rust (a rusty trail) or oil",
  },
  { column: "loads_per_week", also: ["loads"], holds: "loads washed a week, 0 to 100" },
] as const satisfies readonly IntakeColumn[];

export type IntakeColumnName = (typeof INTAKE_COLUMNS)[number]["column"];
