import { isAnswered, targetOf, type Pair } from "./pair.js";

/** Truth in rows, answers in columns; a column `(none)` counts abstentions. */
export interface Confusion {
  readonly rows: readonly string[];
  readonly columns: readonly string[];
  /** Shape [rows][columns], number of recordings. */
  readonly counts: readonly (readonly number[])[];
}

export const ABSTAINED = "(none)";

function tabulate(entries: readonly (readonly [truth: string, answer: string])[]): Confusion {
  const rows = [...new Set(entries.map(([truth]) => truth))].sort();
  const answers = new Set(entries.map(([, answer]) => answer));
  const columns = [...new Set([...rows.filter((row) => answers.has(row)), ...[...answers].sort()])];
  const counts = rows.map((row) =>
    columns.map((column) => entries.filter(([t, a]) => t === row && a === column).length),
  );
  return { rows, columns, counts };
}

/** Component on top against the first true fault, washers only. */
export const componentConfusion = (pairs: readonly Pair[]): Confusion =>
  tabulate(
    pairs
      .filter((pair) => pair.truth.washer)
      .map((pair) => [
        targetOf(pair),
        isAnswered(pair) ? (pair.answer.components[0]?.component ?? ABSTAINED) : ABSTAINED,
      ]),
  );

/** Character answered against the true one, where the truth tells it. */
export const characterConfusion = (pairs: readonly Pair[]): Confusion =>
  tabulate(
    pairs
      .filter((pair) => pair.truth.character !== undefined)
      .map((pair) => [pair.truth.character!, pair.answer.character]),
  );
