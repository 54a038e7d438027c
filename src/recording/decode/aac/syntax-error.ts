/** A frame that breaks the rules of its format. It is skipped; the recording goes on after it. */
export class AacSyntaxError extends Error {
  override readonly name = "AacSyntaxError";
}
