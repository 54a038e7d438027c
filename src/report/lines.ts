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

/** Control characters of a file name or message, made visible so that no terminal obeys them. */
export const showControls = (text: string): string =>
  // eslint-disable-next-line no-control-regex -- the point is to find them
  text.replace(/[\u0000-\u001f\u007f-\u009f\u200e\u200f\u202a-\u202e\u2066-\u2069]/g, (c) => {
    const code = c.charCodeAt(0).toString(16).padStart(4, "0");
    return `\\u${code}`;
  });
