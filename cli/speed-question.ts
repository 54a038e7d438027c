import type { Washer } from "../src/index.js";

/** A told ratio this much beyond a machine's own range is questioned: a choice. */
const SLACK = 1.3;

interface ToldSpeeds {
  readonly drumRpm?: number | undefined;
  readonly motorRpm?: number | undefined;
}

const times = (value: number): string => value.toFixed(value < 3 ? 2 : 1);

/** What is odd about the speeds that were told together; null when nothing is. They are used all the same. */
export function speedQuestion(
  { drumRpm, motorRpm }: ToldSpeeds,
  { label, profiles }: Pick<Washer, "label" | "profiles">,
): string | null {
  if (drumRpm === undefined || motorRpm === undefined) return null;
  const low = Math.min(...profiles.map(({ motorToDrum }) => motorToDrum.low));
  const high = Math.max(...profiles.map(({ motorToDrum }) => motorToDrum.high));
  const ratio = motorRpm / drumRpm;
  if (ratio >= low / SLACK && ratio <= high * SLACK) return null;
  const range = low === high ? times(low) : `${times(low)} to ${times(high)}`;
  const swapped = ratio < low && 1 / ratio >= low / SLACK && 1 / ratio <= high * SLACK;
  const hint = swapped ? " Are the two swapped?" : "";
  return `--motor-rpm ${motorRpm} with --drum-rpm ${drumRpm}: the motor of ${label} turns ${range} times a turn of the drum in a spin, these say ${times(ratio)}.${hint} Both are taken as told.`;
}
