import {
  expectedLines,
  loadWasher,
  shaftSpeeds,
  type RunningState,
  type ShaftSpeeds,
  type Washer,
} from "../src/index.js";
import { speedQuestion } from "./speed-question.js";
import { linesTable } from "./frequencies-table.js";

/** What is asked for; speeds that were not told are undefined. */
export interface FrequenciesOptions {
  readonly machine?: string | undefined;
  readonly drumRpm?: number | undefined;
  readonly motorRpm?: number | undefined;
  readonly lineHz?: 50 | 60 | undefined;
  readonly phase: RunningState["phase"];
  readonly json: boolean;
}

const turns = (hz: number): string =>
  `${Math.round(hz * 600) / 10} rpm, ${hz.toFixed(2)} turns a second`;

/** How many motor turns go to a drum turn, over all profiles of the washer. */
function ratioText(washer: Washer): string {
  const low = Math.min(...washer.profiles.map(({ motorToDrum }) => motorToDrum.low));
  const high = Math.max(...washer.profiles.map(({ motorToDrum }) => motorToDrum.high));
  return `${Math.round(low * 10) / 10} to ${Math.round(high * 10) / 10} turns per drum turn`;
}

function shaftText(shaft: "drum" | "motor", shafts: ShaftSpeeds): string {
  const hz = shafts[shaft];
  if (hz !== null) return turns(hz);
  return shafts.standing.includes(shaft)
    ? "stands in this phase"
    : `not known: tell --${shaft}-rpm`;
}

function heading(washer: Washer, state: RunningState, shafts: ShaftSpeeds): string {
  const askRatio =
    shafts.motor === null && shafts.drum !== null && !shafts.standing.includes("motor");
  return [
    `${washer.label}, ${state.phase}`,
    `  drum      ${shaftText("drum", shafts)}`,
    `  motor     ${shaftText("motor", shafts)}${askRatio ? ` (${ratioText(washer)})` : ""}`,
    ...(shafts.agitator === null ? [] : [`  agitator  ${turns(shafts.agitator)}`]),
    `  mains     ${state.lineHz === null ? "not known: tell --line-hz" : `${state.lineHz} Hz`}`,
  ].join("\n");
}

export interface FrequenciesAnswer {
  /** What goes to stdout. */
  readonly text: string;
  /** What is odd about the told speeds, for stderr; null when nothing is. */
  readonly question: string | null;
}

/** Runs `frequencies`. */
export async function runFrequencies(
  options: FrequenciesOptions,
  width: number,
): Promise<FrequenciesAnswer> {
  const washer = await loadWasher(options.machine);
  return { text: tableFor(washer, options, width), question: speedQuestion(options, washer) };
}

function tableFor(washer: Washer, options: FrequenciesOptions, width: number): string {
  const state: RunningState = {
    drumRpm: options.drumRpm ?? null,
    motorRpm: options.motorRpm ?? null,
    lineHz: options.lineHz ?? null,
    phase: options.phase,
  };
  const shafts = shaftSpeeds(washer, state);
  const lines = expectedLines(washer, state);
  if (!options.json) return `${heading(washer, state, shafts)}\n\n${linesTable(lines, width)}`;
  const { phase, ...speeds } = state;
  const { drum, motor, agitator } = shafts;
  return `${JSON.stringify({
    schema: "washer-noise/frequencies@1",
    machine: { id: washer.id, label: washer.label },
    phase,
    speeds,
    shaftsHz: { drum, motor, agitator },
    lines,
  })}\n`;
}
