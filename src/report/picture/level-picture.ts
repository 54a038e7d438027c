import { scaleLinear } from "d3-scale";
import { line } from "d3-shape";
import type { LevelData, Stretch } from "../../answer/picture-data.js";
import { html, type Markup } from "../html/markup.js";
import { bottomAxis, leftAxis, type Scale } from "./axes.js";
import { spreadOut } from "./marks.js";
import { box, drawing, label, path, rule, textWidth, type Frame } from "./svg.js";

const STATE_NAMES: Readonly<Record<Stretch["state"], string>> = {
  "speeding up": "rising",
  steady: "steady",
  "slowing down": "falling",
  "speed not heard": "unheard",
};

function ribbon(stretches: readonly Stretch[], x: Scale, y: number): Markup[] {
  return stretches.map(({ fromSeconds, toSeconds, state }) => {
    const [from, to] = [x(fromSeconds), x(toSeconds)];
    const fits = to - from > textWidth(state) + 6;
    return html`${box(from, y, [to - from, 18], `stretch ${STATE_NAMES[state]}`)}${fits ? label((from + to) / 2, y + 13, state, { anchor: "middle", name: "note" }) : null}`;
  });
}

const lowest = (levels: Float64Array): number =>
  levels.reduce((least, db) => (db > -115 ? Math.min(least, db) : least), 0);

const SPEED_HEIGHT = 52;

/** The drum's speed over time, in a strip of its own. */
function speedStrip({ speed }: LevelData, x: Scale, frame: Frame): Markup {
  const highest = speed.reduce((most, { rpm }) => Math.max(most, rpm ?? 0), 0);
  const y = scaleLinear([0, highest * 1.08], [frame.bottom, frame.top]).nice(2);
  const d = line<(typeof speed)[number]>()
    .digits(1)
    .defined(({ rpm }) => rpm !== null)
    .x(({ seconds }) => x(seconds))
    .y(({ rpm }) => y(rpm!))([...speed]);
  return html`${leftAxis(y, frame, { unit: "drum, rpm", count: 2 })}${rule(
    [frame.left, frame.bottom],
    [frame.right, frame.bottom],
    "edge",
  )}${path(d, "level whole")}`;
}

interface LevelCurve {
  readonly levels: Float64Array;
  readonly name: string;
  readonly text: string;
}

function levelCurves(
  curves: readonly LevelCurve[],
  hopSeconds: number,
  x: Scale,
  frame: Frame,
): Markup {
  const top = Math.ceil((Math.max(...curves[0]!.levels) + 2) / 10) * 10;
  const least = Math.min(...curves.map(({ levels }) => lowest(levels)));
  const bottom = Math.max(top - 70, Math.floor((least - 2) / 10) * 10);
  const y = scaleLinear([bottom, top], [frame.bottom, frame.top]).clamp(true);
  const ends = curves.map(({ levels }) => y(levels[levels.length - 1] ?? bottom));
  const places = spreadOut(ends, 15, [frame.top + 6, frame.bottom - 4]);
  const drawn = curves.map(({ levels, name, text }, i) => {
    const d = line<number>()
      .digits(1)
      .x((_, k) => x((k + 0.5) * hopSeconds))
      .y((db) => y(db))([...levels]);
    return html`${path(d, `level ${name}`)}${label(frame.right + 6, places[i]! + 4, text)}`;
  });
  return html`${leftAxis(y, frame, { unit: "level, dB re full scale" })}${drawn}`;
}

/** Level over time, in all and in two bands, over the drum's speed and what the drum does. */
export function levelPicture(data: LevelData, phase: string, width: number): Markup {
  const small = width < 500;
  const frame: Frame = {
    width,
    height: 0,
    left: 58,
    right: width - (small ? 62 : 96),
    top: 12,
    bottom: small ? 180 : 210,
  };
  const x = scaleLinear([0, data.seconds], [frame.left, frame.right]);
  const curves = [
    { levels: data.wholeDb, name: "whole", text: "all" },
    { levels: data.highDb, name: "high", text: small ? "> 2 kHz" : "above 2 kHz" },
    { levels: data.lowDb, name: "low", text: small ? "< 500 Hz" : "below 500 Hz" },
  ];
  const strip = { ...frame, top: frame.bottom + 18, bottom: frame.bottom + 18 + SPEED_HEIGHT };
  const moving = data.speed.some(({ rpm }) => rpm !== null);
  const lane = moving ? strip.bottom + 10 : frame.bottom + 18;
  const end = lane + 40;
  const stretches: readonly Stretch[] =
    data.stretches.length > 0
      ? data.stretches
      : [{ fromSeconds: 0, toSeconds: data.seconds, state: "speed not heard" }];
  const plotHeight = frame.bottom - frame.top;
  return drawing(
    { width, height: end + 44 },
    `Level over ${data.seconds.toFixed(0)} seconds and what the drum does meanwhile. Its numbers stand in the table below.`,
    html`${data.unused.map(({ fromSeconds, toSeconds }) =>
      box(x(fromSeconds), frame.top, [x(toSeconds) - x(fromSeconds), plotHeight], "unused"),
    )}${levelCurves(curves, data.hopSeconds, x, frame)}${data.impacts.map((seconds) =>
      rule([x(seconds), frame.bottom - 8], [x(seconds), frame.bottom], "impact"),
    )}${moving ? speedStrip(data, x, strip) : null}${label(frame.left - 7, lane + 13, "drum", {
      anchor: "end",
    })}${ribbon(stretches, x, lane)}${label(frame.left - 7, lane + 33, "phase", {
      anchor: "end",
    })}${box(frame.left, lane + 20, [frame.right - frame.left, 18], "stretch phase")}${label(
      (frame.left + frame.right) / 2,
      lane + 33,
      phase,
      { anchor: "middle", name: "note" },
    )}${bottomAxis(x, { ...frame, bottom: end }, { unit: "time, seconds", grid: false })}`,
  );
}
