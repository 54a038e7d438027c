/** Fewest letters to put in, take out or change, or neighbours to swap, to turn one word into the other. */
function edits(a: string, b: string): number {
  let before: number[] = [];
  let row = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const next = [i];
    for (let j = 1; j <= b.length; j++) {
      const change = row[j - 1]! + (a[i - 1] === b[j - 1] ? 0 : 1);
      const swapped = i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1];
      const swap = swapped ? before[j - 2]! + 1 : Infinity;
      next.push(Math.min(change, row[j]! + 1, next[j - 1]! + 1, swap));
    }
    [before, row] = [row, next];
  }
  return row[b.length]!;
}

/** Longer words are no words of ours; comparing them would only take time. */
const LONGEST = 40;

/**
 * ` Did you mean "drum-rock"?` where one of the allowed words is at most a third of its letters away; else
 * nothing. To be put behind the sentence that refuses a word.
 */
export function didYouMean(received: string, allowed: readonly string[]): string {
  if (received.length > LONGEST) return "";
  const word = received.toLowerCase();
  const ranked = allowed
    .map((one) => ({ one, far: edits(word, one) }))
    .sort((a, b) => a.far - b.far);
  const [best] = ranked;
  if (best === undefined || best.far > Math.min(3, best.one.length / 3)) return "";
  return ` Did you mean "${best.one}"?`;
}
