import { WasherNoiseError } from "../../foundation/errors.js";
import { HEXAGON_FIT, INCH_SOCKETS, METRIC_SOCKETS } from "./hexagons.data.js";

/** Width across flats as it is stamped on the tool: `9/16 in`, `1 11/16 in`, `10 mm`. */
export type HexagonName = string;

/**
 * How a socket sits on a nut, by nominal sizes. `fits`: interchanges; `tight`: may not go on; `loose`:
 * turns a nut that is not done up hard, rounds others; `trap`: seems to fit and rounds the nut;
 * `too-small`: does not go on.
 */
export type Fit = "fits" | "tight" | "loose" | "trap" | "too-small" | "too-large";

const MM_PER_INCH = 25.4;

/** Width across flats in mm; an inch is 25.4 mm exactly. */
export function hexagonMm(name: HexagonName): number {
  const metric = /^(\d+(?:\.\d+)?) ?mm$/.exec(name);
  if (metric) return Number(metric[1]);
  const inch = /^(?:(\d+)[ -])?(?:(\d+)\/(\d+)|(\d+)) ?in$/.exec(name);
  if (inch) {
    const [, whole = "0", over, under, only] = inch;
    const part = only === undefined ? Number(over) / Number(under) : Number(only);
    return (Number(whole) + part) * MM_PER_INCH;
  }
  throw new WasherNoiseError(
    "usage",
    `A hexagon size must be such as "9/16 in" or "10 mm", received "${name}".`,
    { received: name },
  );
}

/** Socket less nut in mm; what that gap means. */
export function fitOf(socketMm: number, nutMm: number): { gapMm: number; fit: Fit } {
  const gapMm = socketMm - nutMm;
  const { tightFromMm, fitsFromMm, looseFromMm, trapFromMm, tooLargeFromMm } = HEXAGON_FIT;
  if (gapMm < tightFromMm.value) return { gapMm, fit: "too-small" };
  if (gapMm < fitsFromMm.value) return { gapMm, fit: "tight" };
  if (gapMm <= looseFromMm.value) return { gapMm, fit: "fits" };
  if (gapMm <= trapFromMm.value) return { gapMm, fit: "loose" };
  return { gapMm, fit: gapMm <= tooLargeFromMm.value ? "trap" : "too-large" };
}

/** What the other system's sockets do on a nut. */
export interface OtherSystem {
  readonly nut: HexagonName;
  readonly nutMm: number;
  /** Socket of the other system that really interchanges, or null. */
  readonly interchanges: HexagonName | null;
  /** Nearest socket that may or may not go on, or null. */
  readonly tight: HexagonName | null;
  /** Next socket that goes on with play, and by how much it is too wide, in mm. */
  readonly trap: { readonly socket: HexagonName; readonly gapMm: number; readonly fit: Fit } | null;
}

/** Looks through the other system's sockets for one nut, by size alone. */
export function otherSystem(nut: HexagonName): OtherSystem {
  const nutMm = hexagonMm(nut);
  const sockets = nut.endsWith("mm") ? INCH_SOCKETS : METRIC_SOCKETS;
  const tried = sockets.map((socket) => ({ socket, ...fitOf(hexagonMm(socket), nutMm) }));
  const fitting = tried
    .filter(({ fit }) => fit === "fits")
    .sort((a, b) => Math.abs(a.gapMm) - Math.abs(b.gapMm));
  const loose = tried
    .filter(({ fit }) => fit === "loose" || fit === "trap")
    .sort((a, b) => a.gapMm - b.gapMm);
  return {
    nut,
    nutMm,
    interchanges: fitting[0]?.socket ?? null,
    tight: tried.find(({ fit }) => fit === "tight")?.socket ?? null,
    trap: loose[0] ?? null,
  };
}
