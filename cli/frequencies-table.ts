import type { ExpectedLine } from "../src/index.js";

const hertz = (hz: number | null): string => {
  if (hz === null) return "?";
  if (hz < 10) return hz.toFixed(2);
  return hz < 1000 ? hz.toFixed(1) : hz.toFixed(0);
};

const percent = (share: number): string =>
  `${share < 0.095 ? (share * 100).toFixed(1) : Math.round(share * 100)} %`;

/** Up to three digits after the point, without trailing zeros. */
const plain = (value: number): string => String(Number(value.toFixed(3)));

const follows = ({ clock, multiple }: ExpectedLine): string =>
  clock === "fixed" ? "nothing" : `${clock} x ${plain(multiple)}`;

const COLUMNS = [
  { title: "Hz", width: 8, right: true },
  { title: "±", width: 6, right: true },
  { title: "per drum turn", width: 14, right: true },
  { title: "follows", width: 15, right: false },
  { title: "heard as", width: 10, right: false },
] as const;

const INDENT = COLUMNS.reduce((sum, { width }) => sum + width + 2, 0);

/** What a line means has a line of its own: beside the columns it would be a narrow tower. */
const MEANING_INDENT = 10;

function row(cells: readonly string[], last: string): string {
  const fixed = COLUMNS.map(({ width, right }, i) =>
    right ? cells[i]!.padStart(width) : cells[i]!.padEnd(width),
  );
  return `${fixed.join("  ")}  ${last}`;
}

/** Breaks a text at spaces into lines of at most `width` characters. */
function wrap(text: string, width: number): string[] {
  const lines: string[] = [];
  let current = "";
  for (const word of text.split(" ")) {
    if (current !== "" && current.length + 1 + word.length > width) {
      lines.push(current);
      current = word;
    } else current = current === "" ? word : `${current} ${word}`;
  }
  return [...lines, current];
}

function entry(line: ExpectedLine, width: number, explain: boolean): string[] {
  const cells = [
    hertz(line.hz),
    percent(line.tolerance),
    line.drumOrder === null ? "" : plain(line.drumOrder),
    follows(line),
    line.seenIn === "envelope" ? "modulation" : "tone",
  ];
  const [first, ...rest] = wrap(line.label, Math.max(16, width - INDENT));
  const meaning = explain ? wrap(line.meaning, width - MEANING_INDENT) : [];
  return [
    row(cells, first!),
    ...rest.map((text) => " ".repeat(INDENT) + text),
    ...meaning.map((text) => " ".repeat(MEANING_INDENT) + text),
  ];
}

const byHz = (a: ExpectedLine, b: ExpectedLine): number =>
  (a.hz ?? Infinity) - (b.hz ?? Infinity) || a.multiple - b.multiple;

function section(title: string, lines: readonly ExpectedLine[], width: number): string[] {
  if (lines.length === 0) return [];
  const head = row(
    COLUMNS.map((column) => column.title),
    "part",
  );
  // The same event of another family or count needs no second explanation.
  const explained = new Set<string>();
  const entries = [...lines].sort(byHz).flatMap((line) => {
    const explain = !explained.has(line.meaning);
    explained.add(line.meaning);
    return entry(line, width, explain);
  });
  return [title, head, ...entries, ""];
}

/**
 * The lines as a table for a screen of `width` columns: first those that accuse a part, then those of a
 * sound machine, each by rising frequency; lines whose shaft's speed is not known stand last. What a line
 * means is said once in each part.
 */
export function linesTable(lines: readonly ExpectedLine[], width: number): string {
  const faults = lines.filter(({ healthy }) => !healthy);
  const normal = lines.filter(({ healthy }) => healthy);
  return [
    ...section("ONLY WHEN A PART IS DAMAGED", faults, width),
    ...section("MADE BY A SOUND MACHINE TOO", normal, width),
  ].join("\n");
}
