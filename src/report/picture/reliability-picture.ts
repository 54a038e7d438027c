import { scaleLinear, scaleSqrt } from "d3-scale";
import type { ReliabilityBin } from "../../evaluation/calibration.js";
import { html, type Markup } from "../html/markup.js";
import { bottomAxis, leftAxis } from "./axes.js";
import { drawing, label, px, rule, type Frame } from "./svg.js";

/** A bin with the 95 % interval of its share. */
export interface ReliabilityPoint extends ReliabilityBin {
  readonly low: number;
  readonly high: number;
}

const percent = (share: number): string => String(Math.round(100 * share));

/** Claimed chance against the share that was right; on the dashed line the two agree. */
export function reliabilityPicture(points: readonly ReliabilityPoint[], width: number): Markup {
  const side = Math.min(width, 460);
  const left = 58;
  const frame: Frame = {
    width,
    height: side - 10,
    left,
    right: side - 16,
    top: 14,
    bottom: side - 60,
  };
  const x = scaleLinear([0, 1], [frame.left, frame.right]);
  const y = scaleLinear([0, 1], [frame.bottom, frame.top]);
  const most = points.reduce((n, point) => Math.max(n, point.n), 1);
  const radius = scaleSqrt([0, most], [0, 9]);
  const ticks = [0, 0.2, 0.4, 0.6, 0.8, 1];
  const marks = points.map(({ claimed, right, low, high, n }) => {
    const at = x(claimed);
    return html`${rule([at, y(low)], [at, y(high)], "whisker")}<circle
        cx="${px(at)}"
        cy="${px(y(right))}"
        r="${px(Math.max(3, radius(n)))}"
        class="point"
      />`;
  });
  return drawing(
    frame,
    `Claimed chance of the top answer against the share that was right, in ${points.length} groups; the table below lists them.`,
    html`${leftAxis(y, frame, { unit: "right, %", ticks, format: percent })}${bottomAxis(x, frame, { unit: "claimed chance, %", ticks, format: percent })}${rule([x(0), y(0)], [x(1), y(1)], "ideal")}${label(x(0.98), y(0.03), "dashed: claims hold", { anchor: "end", name: "note" })}${marks}`,
  );
}
