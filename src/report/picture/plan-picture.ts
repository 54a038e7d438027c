import { percent } from "../../foundation/chance-words.js";
import { scaleLinear } from "d3-scale";
import { curveStepAfter, line } from "d3-shape";
import { html, type Markup } from "../html/markup.js";
import { bottomAxis, leftAxis } from "./axes.js";
import { drawing, label, path, px, rule, type Frame } from "./svg.js";

/** A plan so far: minutes worked and the chance that the part is found by then. */
export interface PlanPoint {
  readonly minutes: number;
  /** 0 to 1. */
  readonly foundBy: number;
}

/** How the chance that the part is found grows with the minutes, a numbered step for each check. */
export function planPicture(
  points: readonly PlanPoint[],
  expectedMinutes: number,
  width: number,
): Markup {
  const frame: Frame = {
    width,
    height: 276,
    left: 58,
    right: width - 16,
    top: 20,
    bottom: 230,
  };
  const last = points.at(-1)!.minutes;
  const x = scaleLinear([0, last * 1.03], [frame.left, frame.right]);
  const y = scaleLinear([0, 1], [frame.bottom, frame.top]);
  const d = line<PlanPoint>()
    .digits(1)
    .x(({ minutes }) => x(minutes))
    .y(({ foundBy }) => y(foundBy))
    .curve(curveStepAfter)([{ minutes: 0, foundBy: 0 }, ...points]);
  const steps = points.map(
    ({ minutes, foundBy }, i) =>
      html`<circle
          cx="${px(x(minutes))}"
          cy="${px(y(foundBy))}"
          r="8.5"
          class="flag"
        />${label(x(minutes), y(foundBy) + 4, String(i + 1), { anchor: "middle", name: "flag-text" })}`,
  );
  const at = x(expectedMinutes);
  const told = points.map(
    ({ minutes, foundBy }, i) =>
      `check ${i + 1} at ${Math.round(minutes)} minutes, ${percent(foundBy)}`,
  );
  return drawing(
    frame,
    `Chance that the part is found, by minutes worked: ${told.join("; ")}. On average ${Math.round(expectedMinutes)} minutes.`,
    html`${leftAxis(y, frame, { unit: "part found, %", ticks: [0, 0.25, 0.5, 0.75, 1], format: (v) => String(100 * v) })}${bottomAxis(x, frame, { unit: "minutes worked, opening included", grid: false })}${rule([at, frame.top], [at, frame.bottom], "ideal")}${label(at + 5, frame.bottom - 8, `average ${Math.round(expectedMinutes)} min`, { name: "note" })}${path(d, "level whole")}${steps}`,
  );
}
