/** Control characters of a file name or message, made visible so that no terminal obeys them. */
export const showControls = (text: string): string =>
  // eslint-disable-next-line no-control-regex -- the point is to find them
  text.replace(/[\u0000-\u001f\u007f-\u009f\u200e\u200f\u2028-\u202e\u2066-\u2069]/g, (c) => {
    const code = c.charCodeAt(0).toString(16).padStart(4, "0");
    return `\\u${code}`;
  });
