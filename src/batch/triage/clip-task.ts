import type { ComplaintFact } from "../../diagnosis/data/complaint.data.js";
import type { Phase } from "../../machine/words.js";
import type { PagesWanted } from "./clip-page.js";

/** Everything that decides the answer for one recording, as plain data that can be sent to a worker. */
export interface ClipSettings {
  /** Built-in id or machine file; null: not told. */
  readonly machine: string | null;
  readonly phase: Phase;
  readonly drumRpm: number | null;
  readonly motorRpm: number | null;
  readonly lineHz: 50 | 60 | null;
  readonly ageYears: number | null;
  readonly told: readonly ComplaintFact[];
}

/** What a recording may have at most; none of it changes an answer, only whether there is one. */
export interface ClipLimits {
  readonly maxBytes?: number;
  readonly maxSeconds?: number;
}

/** One recording to be listened to. */
export interface ClipTask {
  readonly file: string;
  readonly settings: ClipSettings;
  readonly limits: ClipLimits;
  readonly ticket: string | null;
  readonly other: Readonly<Record<string, string>>;
  readonly key: string | null;
  /** A page of the recording is written too; null: none. */
  readonly pages: PagesWanted | null;
}
