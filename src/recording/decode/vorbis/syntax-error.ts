/** A packet that breaks the rules of Vorbis. */
export class VorbisSyntaxError extends Error {
  override readonly name = "VorbisSyntaxError";
}
