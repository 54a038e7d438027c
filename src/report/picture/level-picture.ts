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

/** Level over time, in all and in two bands, over a ribbon of what the drum does. */
export function levelPicture(data: LevelData, phase: string, width: number): Markup {
  const small = width < 500;
  const frame: Frame = {
    width,
    height: small ? 300 : 330,
    left: 54,
    right: width - (small ? 62 : 96),
    top: 18,
    bottom: small ? 196 : 226,
  };
  const x = scaleLinear([0, data.seconds], [frame.left, frame.right]);
  const curves = [
    { levels: data.wholeDb, name: "whole", text: "all" },
    { levels: data.highDb, name: "high", text: small ? "> 2 kHz" : "above 2 kHz" },
    { levels: data.lowDb, name: "low", text: small ? "< 500 Hz" : "below 500 Hz" },
  ];
  const top = Math.ceil((Math.max(...data.wholeDb) + 2) / 10) * 10;
  const bottom = Math.max(
    top - 70,
    Math.floor((Math.min(...curves.map(({ levels }) => lowest(levels))) - 2) / 10) * 10,
  );
  const y = scaleLinear([bottom, top], [frame.bottom, frame.top]).clamp(true);
  const ends = curves.map(({ levels }) => y(levels[levels.length - 1] ?? bottom));
  const places = spreadOut(ends, 15, [frame.top + 6, frame.bottom - 4]);
  const drawn = curves.map(({ levels, name, text }, i) => {
    const d = line<number>()
      .digits(1)
      .x((_, k) => x((k + 0.5) * data.hopSeconds))
      .y((db) => y(db))([...levels]);
    return html`${path(d, `level ${name}`)}${label(frame.right + 6, places[i]! + 4, text)}`;
  });
  const lane = frame.bottom + 22;
  return drawing(
    { width, height: frame.height },
    `Level over ${data.seconds.toFixed(0)} seconds and what the drum does meanwhile. Its numbers stand in the table below.`,
    html`${data.unused.map(({ fromSeconds, toSeconds }) => box(x(fromSeconds), frame.top, [x(toSeconds) - x(fromSeconds), frame.bottom - frame.top], "unused"))}${leftAxis(y, frame, { unit: "level, dB re full scale" })}${drawn}${data.impacts.map((seconds) => rule([x(seconds), frame.bottom - 8], [x(seconds), frame.bottom], "impact"))}${bottomAxis(x, { ...frame, bottom: lane + 40 }, { unit: "time, seconds", grid: false })}${label(frame.left - 7, lane + 13, "drum", { anchor: "end" })}${ribbon(data.stretches.length > 0 ? data.stretches : [{ fromSeconds: 0, toSeconds: data.seconds, state: "speed not heard" }], x, lane)}${label(frame.left - 7, lane + 33, "phase", { anchor: "end" })}${box(frame.left, lane + 20, [frame.right - frame.left, 18], "stretch phase")}${label((frame.left + frame.right) / 2, lane + 33, phase, { anchor: "middle", name: "note" })}`,
  );
}
