import type { Canvas, Layer } from "./canvas.js";
import type { Curve } from "./curve.js";
import { CURVE_HZ } from "./curve.js";

/**
 * Multiplies a layer by pulses raised `ratio` times a turn: 1 - depth between them, 1 on them. `sharpness` is the
 * power of the raised cosine; `slip` the share by which the pulses lose their place against the shaft.
 */
export function pulse(
  canvas: Canvas,
  layer: Layer,
  turns: Curve,
  how: { ratio: number; depth: number; sharpness: number; slip?: number },
): Layer {
  const { dice, rateHz } = canvas;
  const shape = Float64Array.from({ length: 1025 }, (_, k) =>
    Math.pow(0.5 + 0.5 * Math.cos((2 * Math.PI * k) / 1024), how.sharpness),
  );
  const step = CURVE_HZ / rateHz;
  const start = dice.unit();
  let lost = 0;
  let before = -1;
  for (let n = 0; n < layer.length; n++) {
    const place = n * step;
    const k = Math.floor(place);
    const turn = turns[k]! + (turns[k + 1]! - turns[k]!) * (place - k);
    if (k !== before) {
      const made = (turns[k + 1]! - turns[k]!) * how.ratio;
      lost += (how.slip ?? 0) * made + 0.03 * Math.sqrt(made * (how.slip ? 1 : 0)) * dice.bell();
      before = k;
    }
    const phase = start + how.ratio * turn - lost;
    const height = shape[((phase - Math.floor(phase)) * 1024) | 0]!;
    layer[n]! *= 1 - how.depth + how.depth * height;
  }
  return layer;
}

/** Multiplies a layer by chance bumps, about `perSecond` of them: gravel, rust, crackle. */
export function roughen(canvas: Canvas, layer: Layer, perSecond: number, depthDb: number): Layer {
  const { dice, rateHz } = canvas;
  const depth = (depthDb * Math.LN10) / 20;
  let left = 0;
  let gain = 1;
  let climb = 0;
  for (let n = 0; n < layer.length; n++) {
    if (left-- <= 0) {
      left = Math.max(1, Math.round((dice.between(0.5, 1.5) * rateHz) / perSecond));
      climb = (Math.exp(depth * dice.bell()) - gain) / left;
    }
    gain += climb;
    layer[n]! *= gain;
  }
  return layer;
}
