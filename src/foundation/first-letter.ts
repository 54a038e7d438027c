/** First letter large, for the start of a heading, a sentence or a cell. */
export const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

/** First letter small, for the middle of a sentence. */
export const lower = (text: string): string => text.charAt(0).toLowerCase() + text.slice(1);
