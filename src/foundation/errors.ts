import { showControls } from "./show-controls.js";

/** Machine-readable reasons why an input was refused. */
export type FailureCode =
  | "file-unreadable"
  | "file-unwritable"
  | "file-empty"
  | "not-audio"
  | "format-unsupported"
  | "recording-damaged"
  | "recording-too-large"
  | "recording-too-short"
  | "usage"
  | "machine-unknown"
  | "machine-file-invalid"
  | "job-file-invalid"
  | "intake-invalid"
  | "truth-invalid"
  | "out-of-range"
  | "cancelled"
  | "internal";

const LONGEST_MESSAGE = 2000;
const KEPT_AT_THE_END = 500;

// The remedy stands at the end, so the end stays.
const shortened = (message: string): string =>
  message.length <= LONGEST_MESSAGE
    ? message
    : `${message.slice(0, LONGEST_MESSAGE - KEPT_AT_THE_END - 5)} ... ${message.slice(-KEPT_AT_THE_END)}`;

/**
 * An input that cannot be used, said as facts first.
 *
 * `code` is stable and meant for programs; `message` is one line for people: the thing, what it must
 * be, what was received, and the remedy; `facts` are the values the message was made from. Names and
 * texts from outside come into messages, so control characters are made visible there and the middle of
 * a very long message is left out.
 */
export class WasherNoiseError extends Error {
  override readonly name = "WasherNoiseError";
  readonly code: FailureCode;
  readonly facts: Readonly<Record<string, unknown>>;

  constructor(
    code: FailureCode,
    message: string,
    facts: Record<string, unknown> = {},
    options?: ErrorOptions,
  ) {
    super(shortened(showControls(message)), options);
    this.code = code;
    this.facts = facts;
  }
}

/** Throws `out-of-range` unless `low <= value <= high`. */
export function assertRange(name: string, value: number, low: number, high: number): void {
  if (value >= low && value <= high) return;
  throw new WasherNoiseError(
    "out-of-range",
    `${name} must lie between ${low} and ${high}, received ${value}.`,
    { name, value, low, high },
  );
}
