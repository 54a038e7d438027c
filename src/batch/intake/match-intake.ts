import type { InboxFile } from "../triage/inbox.js";
import type { IntakeRow, IntakeSheet } from "./intake-sheet.js";

export interface IntakeMatch {
  /** The row of each recording that has one, by the recording's path. */
  readonly rowOf: ReadonlyMap<string, IntakeRow>;
  /** Rows without a recording, and names that fit several. */
  readonly complaints: readonly string[];
}

const forward = (path: string): string => path.replaceAll("\\", "/").normalize("NFC");
const baseOf = (path: string): string => path.slice(path.lastIndexOf("/") + 1);

/**
 * Finds the row of each recording: by its path as given, by its path from its folder, or by its bare
 * name where only one recording has it, so that nobody gets another customer's row.
 */
export function matchIntake(files: readonly InboxFile[], { rows }: IntakeSheet): IntakeMatch {
  const byName = new Map<string, InboxFile[]>();
  const add = (name: string, file: InboxFile): void => {
    const known = byName.get(name) ?? [];
    if (!known.includes(file)) byName.set(name, [...known, file]);
  };
  for (const file of files) {
    for (const name of [file.path, file.name, baseOf(forward(file.name))]) add(forward(name), file);
  }
  const rowOf = new Map<string, IntakeRow>();
  const complaints: string[] = [];
  for (const row of rows) {
    const found =
      byName.get(forward(row.file).replace(/^\.\//, "")) ?? byName.get(forward(row.file));
    const exact = found?.filter((file) => forward(file.name) === forward(row.file));
    const fitting = exact?.length === 1 ? exact : (found ?? []);
    if (fitting.length === 1) rowOf.set(fitting[0]!.path, row);
    else if (fitting.length === 0) {
      complaints.push(`Intake row ${row.line}: no recording named ${row.file} was found.`);
    } else {
      const paths = fitting.map((file) => file.path).join(", ");
      complaints.push(
        `Intake row ${row.line}: ${row.file} fits ${paths}. Write the path; the row is left out.`,
      );
    }
  }
  return { rowOf, complaints };
}
