import type { Component, Phase } from "../machine/words.js";
import type { Need } from "./motion/programme-wish.js";

const AT_RUN_UP: readonly Component[] = [
  "drive-belt",
  "clutch-splines",
  "suspension",
  "unbalanced-load",
  "hub-nut",
  "spin-brake",
  "balance-ring",
  "loose-panel",
];
const AT_REST: readonly Component[] = [
  "suspension",
  "balance-ring",
  "hub-nut",
  "door-boot",
  "loose-panel",
  "unbalanced-load",
];

/** What a clip's movement must show so that its faults can be heard at all. */
export function needsOf(faults: readonly Component[], phase: Phase): Need[] {
  const has = (list: readonly Component[]) => faults.some((fault) => list.includes(fault));
  const needs: Need[] = [];
  if (phase === "spin" && has(AT_RUN_UP)) needs.push("run-up");
  if (phase === "coast" && has(AT_REST)) needs.push("to-rest");
  if (phase === "coast" && has(["spin-brake"])) needs.push("brake");
  if (has(["shift-actuator"])) needs.push("late-start");
  if (has(["drain-pump", "motor-coupling"])) needs.push("pump");
  return needs;
}
