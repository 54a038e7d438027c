import type { Phase } from "../../machine/words.js";
import { coastProgramme } from "./coast.js";
import { handProgramme } from "./hand.js";
import { stillProgramme, type Programme } from "./motion.js";
import type { ProgrammeWish } from "./programme-wish.js";
import { spinProgramme } from "./spin.js";
import { drainProgramme, fillProgramme } from "./standing.js";
import { strokeProgramme } from "./strokes.js";
import { tumbleProgramme } from "./tumble.js";

/** Draws how the machine moves during a clip of the given phase. */
export function drawProgramme(phase: Phase, wish: ProgrammeWish): Programme {
  switch (phase) {
    case "fill":
      return fillProgramme(wish);
    case "wash":
      return wish.washer.build.axis === "vertical" ? strokeProgramme(wish) : tumbleProgramme(wish);
    case "drain":
      return drainProgramme(wish);
    case "spin":
      return spinProgramme(wish);
    case "coast":
      return coastProgramme(wish);
    case "hand-spin":
      return handProgramme(wish);
    case "unknown":
      return stillProgramme(wish.sampleCount);
  }
}
