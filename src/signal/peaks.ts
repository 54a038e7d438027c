import type { Numbers } from "../foundation/statistics.js";

/** A local maximum of an evenly sampled curve. */
export interface Peak {
  /** Place of the maximum in samples or bins, between two places where the parabola says so. */
  readonly position: number;
  readonly value: number;
}

/** Vertex of the parabola through three neighbours: offset in (-0.5, 0.5) and height. */
export function parabolaVertex(left: number, middle: number, right: number): Peak {
  const curvature = left - 2 * middle + right;
  if (curvature >= 0) return { position: 0, value: middle };
  const offset = (0.5 * (left - right)) / curvature;
  return { position: offset, value: middle - 0.25 * (left - right) * offset };
}

/** Local maxima of at least `floor`, places refined by a parabola, strongest first. */
export function findPeaks(values: Numbers, floor: number): Peak[] {
  const peaks: Peak[] = [];
  for (let i = 1; i + 1 < values.length; i++) {
    const middle = values[i]!;
    if (middle < floor || middle <= values[i - 1]! || middle < values[i + 1]!) continue;
    const vertex = parabolaVertex(values[i - 1]!, middle, values[i + 1]!);
    peaks.push({ position: i + vertex.position, value: vertex.value });
  }
  return peaks.sort((a, b) => b.value - a.value);
}
