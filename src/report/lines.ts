export { showControls } from "../foundation/show-controls.js";

/**
 * Breaks a sentence into lines of at most `width` columns, later ones indented. Breaks at plain spaces
 * only: a no-break space keeps an indent or a figure and its unit together.
 */
export function wrap(text: string, width: number, indent = ""): string[] {
  const lines: string[] = [];
  let line = "";
  for (const word of text.split(/[ \n]+/)) {
    const room = width - (lines.length === 0 ? 0 : indent.length);
    if (line && line.length + 1 + word.length > room) {
      lines.push(lines.length === 0 ? line : indent + line);
      line = word;
    } else {
      line = line ? `${line} ${word}` : word;
    }
  }
  if (line) lines.push(lines.length === 0 ? line : indent + line);
  return lines;
}
