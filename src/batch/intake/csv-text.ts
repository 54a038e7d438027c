/**
 * Where a spreadsheet would take text for a formula (OWASP, CSV Injection): these signs, also in their wide
 * forms, at the beginning of a cell or, since some languages split lines at semicolons and ours at commas,
 * behind what such a program takes for the end of a cell. A tab or line end at the beginning is one too.
 */
const FORMULA =
  /^(?=[\t\r\n]|\s*[=+\-@\uff1d\uff0b\uff0d\uff20])|(?<=[;\t\r\n])(?=[^\S\t\r\n]*[=+\-@\uff1d\uff0b\uff0d\uff20])/g;

function cell(value: string | number | null): string {
  if (value === null) return "";
  if (typeof value === "number") return String(value);
  const safe = value.replace(FORMULA, "'");
  return /[",\r\n;\t]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}

/** One line of CSV (RFC 4180), with CRLF. Text that looks like a formula is made text; numbers stay. */
export const csvLine = (cells: readonly (string | number | null)[]): string =>
  `${cells.map(cell).join(",")}\r\n`;
