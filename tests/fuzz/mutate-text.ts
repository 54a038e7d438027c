import type { Random } from "../../src/foundation/random.js";

const NASTY_TEXTS = [
  "",
  "\0",
  "\u001b[2J\u001b]0;owned\u0007",
  "<script>alert(1)</script>",
  "../../../../etc/passwd",
  "/etc/passwd",
  "C:\\Windows\\system.ini",
  '=HYPERLINK("file:///etc/passwd")',
  "\u202egnp.exe",
  "\ud800",
  "__proto__",
  "constructor",
  "a".repeat(100_000),
  "9".repeat(400),
] as const;

const NASTY_NUMBERS = [
  "0",
  "-1",
  "-0",
  "1e308",
  "-1e308",
  "1e-320",
  "1e999",
  "4294967296",
  "9007199254740993",
  "0.1",
] as const;

type Mutation = (text: string, random: Random) => string;

const place = (text: string, random: Random): number => random.integer(0, text.length);

/** Puts `next` in the place of one match of `pattern`. */
function replaceOne(text: string, pattern: RegExp, random: Random, next: string): string {
  const found = [...text.matchAll(pattern)];
  if (found.length === 0) return text;
  const { index, 0: old } = random.pick(found);
  return text.slice(0, index) + next + text.slice(index + old.length);
}

const swappedLines: Mutation = (text, random) => {
  const lines = text.split("\n");
  const from = random.integer(0, lines.length - 1);
  const [moved] = lines.splice(from, 1);
  lines.splice(random.integer(0, lines.length), 0, moved!);
  return lines.join("\n");
};

const mutations: readonly Mutation[] = [
  (text, random) => text.slice(0, place(text, random)),
  (text, random) => {
    const at = place(text, random);
    return text.slice(0, at) + String.fromCharCode(random.integer(0, 0x2fff)) + text.slice(at + 1);
  },
  (text, random) =>
    replaceOne(text, /"[^"\n]*"/g, random, JSON.stringify(random.pick(NASTY_TEXTS))),
  (text, random) => replaceOne(text, /-?\d+(\.\d+)?/g, random, random.pick(NASTY_NUMBERS)),
  (text, random) =>
    replaceOne(
      text,
      /"[^"\n]*"|-?\d+(\.\d+)?/g,
      random,
      random.pick(["null", "true", "[]", "{}", "[[[]]]", '{"__proto__":{"polluted":1}}', '"x"']),
    ),
  swappedLines,
  (text, random) => {
    const lines = text.split("\n");
    lines.splice(random.integer(0, lines.length - 1), 1);
    return lines.join("\n");
  },
  (text, random) => {
    const lines = text.split("\n");
    const line = random.pick(lines);
    const copies = Array.from({ length: random.pick([1, 2, 500]) }, () => line);
    lines.splice(random.integer(0, lines.length), 0, ...copies);
    return lines.join("\n");
  },
  (text, random) => {
    const at = place(text, random);
    return text.slice(0, at) + random.pick(NASTY_TEXTS) + text.slice(at);
  },
  (text, random) => "[".repeat(random.pick([10, 1000, 200_000])) + text,
  (text, random) => replaceOne(text, /[,;"{}[\]:\n]/g, random, random.pick([...'"{}[],:;\n\t\r'])),
  (text) => `\ufeff${text}`,
];

/** One to three changes to a text, as UTF-8; now and then as UTF-16 or with bytes that are no UTF-8. */
export function mutateText(seed: string, random: Random): Uint8Array {
  let text = seed;
  for (let i = random.integer(1, 3); i > 0; i--) {
    text = random.pick(mutations)(text, random).slice(0, 400_000);
  }
  if (random.chance(0.04)) return new Uint8Array(Buffer.from(`\ufeff${text}`, "utf16le"));
  const bytes = new Uint8Array(Buffer.from(text, "utf8"));
  if (random.chance(0.06) && bytes.length > 0) {
    bytes[random.integer(0, bytes.length - 1)] = random.integer(128, 255);
  }
  return bytes;
}
