/**
 * Cells that a spreadsheet would take for a formula begin with one of these; a leading apostrophe makes
 * them text (OWASP, CSV Injection).
 */
const FORMULA = /^[=+\-@\t\r]/;

function cell(value: string | number | null): string {
  if (value === null) return "";
  if (typeof value === "number") return String(value);
  const safe = FORMULA.test(value) ? `'${value}` : value;
  return /[",\r\n;\t]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}

/** One line of CSV (RFC 4180), with CRLF. Text that looks like a formula is made text; numbers stay. */
export const csvLine = (cells: readonly (string | number | null)[]): string =>
  `${cells.map(cell).join(",")}\r\n`;
