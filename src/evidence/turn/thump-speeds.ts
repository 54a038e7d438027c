import { median } from "../../foundation/statistics.js";
import type { Measurement } from "../evidence.js";
import { measured, missing } from "../measurement.js";
import { blowOf, type Blow } from "./blow-profile.js";
import { CELLS, turnBlocks, turnRpm, type Turns } from "./turn-grid.js";

/** Speeds in which a soft suspension strikes, and from which the drum runs over it, rpm. */
const WINDOW_RPM = [100, 350] as const;
const RUNNING_RPM = 450;
const SHORT_BLOCK = 10;
const LEAST_BLOCK = 6;
/** A run-down ends this slow, rpm. */
const END_RPM = 220;
const LAST_TURNS = 5;
const TURNS_BEFORE = 12;

const rpmOf = ({ block }: Blow): number => 60 * block.hz;

/** Blow at 60-500 Hz by speed: `thump-at-speed` above 450 rpm, `thump-window` 100-350 rpm against that. */
export function thumpsBySpeed(
  turns: Turns,
  power: Float64Array,
  quality: number,
): Record<"thump-window" | "thump-at-speed", Measurement> {
  const blows = turnBlocks(turns, SHORT_BLOCK, LEAST_BLOCK).map((block) => blowOf(power, block));
  const inWindow = blows.filter(
    (blow) => rpmOf(blow) >= WINDOW_RPM[0] && rpmOf(blow) <= WINDOW_RPM[1],
  );
  const running = blows.filter((blow) => rpmOf(blow) > RUNNING_RPM);
  const typical = (some: readonly Blow[]): number => median(some.map(({ db }) => db));
  return {
    "thump-at-speed":
      running.length < 2
        ? missing("phase")
        : measured(typical(running), quality * Math.min(1, running.length / 6)),
    "thump-window":
      inWindow.length < 2 || running.length < 2
        ? missing("phase")
        : measured(
            typical(inWindow) - typical(running),
            quality * Math.min(1, inWindow.length / 4),
            { inWindowDb: typical(inWindow), atSpeedDb: typical(running) },
          ),
  };
}

/** Highest cell of a turn over its middle, dB. */
function turnPeakDb(power: Float64Array, turn: number): number {
  const cells = power.subarray(turn * CELLS, (turn + 1) * CELLS);
  return 10 * Math.log10((Math.max(...cells) + 1e-30) / (median(cells) + 1e-30));
}

/** `thump-at-end`: blows of the last five turns of a run-down over those of the dozen before, dB. */
export function thumpAtEnd(turns: Turns, power: Float64Array, quality: number): Measurement {
  const { valid } = turns;
  let last = valid.length - 1;
  while (last >= 0 && valid[last] === 0) last--;
  const first = last - LAST_TURNS - TURNS_BEFORE + 1;
  if (first < 0) return missing("phase");
  for (let turn = first; turn <= last; turn++) if (valid[turn] === 0) return missing("phase");
  if (turnRpm(turns, last) > END_RPM || turnRpm(turns, first) < 1.3 * turnRpm(turns, last))
    return missing("phase");
  const peaks = (from: number, count: number): number =>
    median(Array.from({ length: count }, (_, i) => turnPeakDb(power, from + i)));
  return measured(
    peaks(first + TURNS_BEFORE, LAST_TURNS) - peaks(first, TURNS_BEFORE),
    0.7 * quality,
  );
}
