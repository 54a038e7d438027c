import { drawCourse } from "./course.js";
import type { Dice } from "./dice.js";
import type { CourseWish, SpinKind } from "./knots.js";
import { backgroundLevel, faultLevel } from "./level.js";
import { LEAST_LIKELIHOOD } from "./likelihoods.data.js";
import { drawMachine } from "./machine.js";
import { normalLayers } from "./normal.js";
import { rowOf, type Plot } from "./plot.js";
import type { Recipe, Scene } from "./scene.js";
import { add, fromDb, scaled, type Signal } from "./sound.js";
import { throughCabinet } from "./space.js";

/** All sounds of a machine in order, each at a level of its own under the loudest. */
function background(scene: Scene, dice: Dice): Signal {
  const out = new Float32Array(scene.length);
  const mood = dice.between(-4, 4);
  for (const layer of normalLayers(scene)) {
    const roll = dice.branch(layer.name);
    if (!roll.chance(layer.share)) continue;
    const sound = throughCabinet(layer.make(scene, roll), scene.rate, roll);
    const level = faultLevel(sound, scene.rate);
    const wished = roll.between(layer.db[0], layer.db[1]) + (layer.name === "room" ? mood : 0);
    if (Number.isFinite(level)) add(out, sound, fromDb(wished - level));
  }
  return out;
}

/** What stands apart before the mix, for checks. */
export interface Stems {
  scene: Scene;
  fault: Signal | null;
  background: Signal;
  faultToBackgroundDb: number | null;
}

function spinKind(recipe: Recipe | null, dice: Dice): SpinKind {
  if (recipe === null) return dice.pick(["plateau", "slow", "run-up"]);
  const { plateau, runUp } = rowOf(recipe);
  if (plateau < LEAST_LIKELIHOOD) return dice.pick(["run-up", "slow"]);
  if (recipe.habitat === "window") return dice.chance(0.25) ? "plateau" : "run-up";
  return dice.pick(
    runUp < LEAST_LIKELIHOOD ? (["plateau"] as const) : (["plateau", "slow", "run-up"] as const),
  );
}

/** The sounds of a drawn plot, each by itself, before room and phone. */
export function playPlot(plot: Plot, seconds: number, rate: number, dice: Dice): Stems {
  const machine = drawMachine(plot.profile, dice.branch("machine"));
  const wish: CourseWish = {
    phase: plot.phase,
    seconds,
    rate,
    spin: spinKind(plot.recipe, dice.branch("kind")),
    ...(plot.recipe?.habitat ? { habitat: plot.recipe.habitat } : {}),
  };
  const length = Math.round(seconds * rate);
  const aim = dice.branch("fault").between(0, 12);
  for (let round = 0; ; round++) {
    const roll = dice.branch(`round${String(round)}`);
    const scene: Scene = {
      rate,
      length,
      machine,
      phase: plot.phase,
      course: drawCourse(machine, wish, roll.branch("course")),
    };
    const level = plot.recipe === null ? 0 : NaN;
    const fault =
      plot.recipe === null
        ? null
        : throughCabinet(plot.recipe.make(scene, roll.branch("fault")), rate, roll.branch("way"));
    const loud = fault === null ? level : faultLevel(fault, rate);
    // A course in which the part never sounds (a window not met) is drawn again.
    if (!Number.isFinite(loud) && round < 20) continue;
    const under = background(scene, roll.branch("normal"));
    if (fault === null) return { scene, fault, background: under, faultToBackgroundDb: null };
    scaled(fault, fromDb(backgroundLevel(under, rate) + aim - loud));
    return { scene, fault, background: under, faultToBackgroundDb: aim };
  }
}
