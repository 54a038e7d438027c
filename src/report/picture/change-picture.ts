import { scaleLinear } from "d3-scale";
import { html, type Markup } from "../html/markup.js";
import { signed } from "../signed.js";
import { bottomAxis } from "./axes.js";
import { drawing, label, px, rule, textWidth, type Frame } from "./svg.js";

/** A value on the common axis with its interval. */
interface ChangeRow {
  readonly name: string;
  readonly value: number;
  readonly low: number;
  readonly high: number;
}

/** Values as dots on one axis with a line at zero; intervals as thin lines. */
export function changePicture(
  rows: readonly ChangeRow[],
  { unit, zero }: { readonly unit: string; readonly zero: string },
  width: number,
): Markup {
  const small = width < 500;
  const row = small ? 44 : 32;
  const top = 26;
  const frame: Frame = {
    width,
    height: top + rows.length * row + 44,
    left: small ? 10 : 20 + Math.max(...rows.map(({ name }) => textWidth(name, 13.5))),
    right: width - 48,
    top,
    bottom: top + rows.length * row,
  };
  const all = rows.flatMap(({ low, high }) => [low, high]);
  const reach = [Math.min(-1, ...all), Math.max(1, ...all)] as const;
  const x = scaleLinear(reach, [frame.left, frame.right]).nice();
  const drawn = rows.map(({ name, value, low, high }, i) => {
    const y = frame.top + i * row + (small ? 30 : row / 2);
    const title = small
      ? label(frame.left, y - 13, name, { name: "part" })
      : label(frame.left - 10, y + 4, name, { anchor: "end", name: "part" });
    const interval = html`${rule([x(low), y], [x(high), y], "whisker")}${rule([x(low), y - 5], [x(low), y + 5], "whisker")}${rule([x(high), y - 5], [x(high), y + 5], "whisker")}`;
    const end = Math.max(x(value) + 7, x(high));
    return html`${title}${interval}<circle
        cx="${px(x(value))}"
        cy="${px(y)}"
        r="5.5"
        class="point"
      />${label(end + 5, y + 4, signed(value), { name: "value" })}`;
  });
  const told = rows.map(
    ({ name, value, low, high }) =>
      `${name} ${signed(value)}, from ${signed(low)} to ${signed(high)}`,
  );
  return drawing(
    frame,
    `${unit}: ${told.join("; ")}.`,
    html`${bottomAxis(x, frame, { unit })}${rule([x(0), frame.top - 4], [x(0), frame.bottom], "ideal")}${label(x(0), frame.top - 10, zero, { anchor: "middle", name: "note" })}${drawn}`,
  );
}
