export { showControls } from "../foundation/show-controls.js";

/** A figure and its unit, which read badly on two lines: "14 %", "0.5 kHz", "5 minutes". */
const FIGURE =
  /(\d) (?=(?:%|°C|[kMG]?Hz|dB|rpm|min|minutes|seconds|s|kg|mm|cm|litres|volts|in|[kM]?Ω|[µn]F)(?![\w°]))/g;

/** The same text with a no-break space between each figure and its unit. */
export const keepFigures = (text: string): string => text.replace(FIGURE, "$1\u00a0");

/**
 * Breaks a sentence into lines of at most `width` columns, later ones indented. Breaks at plain spaces
 * only, never between a figure and its unit: a no-break space keeps an indent together.
 */
export function wrap(text: string, width: number, indent = ""): string[] {
  const lines: string[] = [];
  let line = "";
  for (const word of keepFigures(text).split(/[ \n]+/)) {
    const room = width - (lines.length === 0 ? 0 : indent.length);
    if (line && line.length + 1 + word.length > room) {
      lines.push(lines.length === 0 ? line : indent + line);
      line = word;
    } else {
      line = line ? `${line} ${word}` : word;
    }
  }
  if (line) lines.push(lines.length === 0 ? line : indent + line);
  return lines.map((one) => one.replaceAll("\u00a0", " "));
}

/** Columns of the label that stands left of a block. */
export const LABEL_WIDTH = 11;

/** A block of a screen: its label, and the text beside it; later lines hang under the text. */
export const labelled = (label: string, text: string, width: number): string[] =>
  wrap(label.padEnd(LABEL_WIDTH, "\u00a0") + text, width, " ".repeat(LABEL_WIDTH));
