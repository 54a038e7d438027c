import type { Span } from "./profile.js";

/** A rate to search: its centre, and the half-width as a share of the centre. */
export interface Window {
  readonly multiple: number;
  readonly tolerance: number;
}

/** The window from a span's low to its high end, each multiplied by `factor`. */
export const spanWindow = (span: Span, factor = 1): Window => ({
  multiple: (factor * (span.low + span.high)) / 2,
  tolerance: (span.high - span.low) / (span.high + span.low),
});

/** The window that covers both. */
export function coverWindows(a: Window, b: Window): Window {
  const low = Math.min(a.multiple * (1 - a.tolerance), b.multiple * (1 - b.tolerance));
  const high = Math.max(a.multiple * (1 + a.tolerance), b.multiple * (1 + b.tolerance));
  return { multiple: (low + high) / 2, tolerance: (high - low) / (high + low) };
}

/**
 * Turns values that differ from machine to machine into as few windows as keep them apart: windows
 * that would overlap become one. Ascending.
 */
export function windowsAround(values: readonly number[], tolerance: number): Window[] {
  const windows: Window[] = [];
  for (const multiple of [...new Set(values)].sort((a, b) => a - b)) {
    const last = windows.at(-1);
    const next = { multiple, tolerance };
    const overlaps =
      last !== undefined && multiple * (1 - tolerance) <= last.multiple * (1 + last.tolerance);
    if (overlaps) windows[windows.length - 1] = coverWindows(last, next);
    else windows.push(next);
  }
  return windows;
}
