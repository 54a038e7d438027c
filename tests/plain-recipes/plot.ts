import type { MachineProfile } from "../../src/machine/profile.js";
import { PROFILES } from "../../src/machine/washers.js";
import type { Component, Phase } from "../../src/machine/words.js";
import type { Dice } from "./dice.js";
import { BEARING_RECIPES } from "./faults-bearing.js";
import { DRIVE_RECIPES } from "./faults-drive.js";
import { GEAR_RECIPES } from "./faults-gear.js";
import { KNOCK_RECIPES } from "./faults-knock.js";
import { WATER_RECIPES } from "./faults-water.js";
import {
  DRAWN_PHASES,
  LEAST_LIKELIHOOD,
  LIKELIHOODS,
  phaseLikelihood,
} from "./likelihoods.data.js";
import type { Recipe } from "./scene.js";

export interface PlainWish {
  normalShare?: number;
  notWasherShare?: number;
  /** 8-40; 15 unless told. */
  seconds?: number;
  /** A part to break, null for none; drawn unless told. */
  fault?: Component | null;
  machine?: string;
  phase?: Phase;
}

export const RECIPES: readonly Recipe[] = [
  ...BEARING_RECIPES,
  ...KNOCK_RECIPES,
  ...DRIVE_RECIPES,
  ...GEAR_RECIPES,
  ...WATER_RECIPES,
];
export const FAULTY_COMPONENTS: readonly Component[] = [
  ...new Set(RECIPES.map(({ component }) => component)),
];

export const rowOf = (recipe: Recipe): (typeof LIKELIHOODS)[number] =>
  LIKELIHOODS.find(({ id }) => id === recipe.row)!;

const NORMAL_PHASES = [
  "fill",
  "wash",
  "wash",
  "drain",
  "drain",
  "spin",
  "spin",
  "spin",
  "spin",
  "coast",
  "hand-spin",
] as const;

/** One fault, where and when it is heard. */
export interface Plot {
  recipe: Recipe | null;
  phase: Phase;
  profile: MachineProfile;
}

/** Every phase and kind of machine in which a recipe may be drawn, with its likelihood. */
export function plotsOf(
  recipe: Recipe,
): { phase: Phase; profile: MachineProfile; likelihood: number }[] {
  return PROFILES.filter(
    (profile) => profile.components.includes(recipe.component) && (recipe.fits?.(profile) ?? true),
  ).flatMap((profile) =>
    DRAWN_PHASES.map((phase) => ({
      phase,
      profile,
      likelihood: phaseLikelihood(rowOf(recipe), phase, profile.axis === "vertical"),
    })).filter(({ likelihood }) => likelihood >= LEAST_LIKELIHOOD),
  );
}

/** A part, a way it sounds, a phase by likelihood, then a kind of machine. */
export function drawPlot(wish: PlainWish, dice: Dice): Plot {
  const part = wish.fault ?? dice.pick(FAULTY_COMPONENTS);
  const choices = RECIPES.filter(({ component }) => component === part).map((recipe) => ({
    recipe,
    plots: plotsOf(recipe).filter(
      ({ phase, profile }) =>
        (wish.phase ?? phase) === phase && (wish.machine ?? profile.id) === profile.id,
    ),
  }));
  const possible = choices.filter(({ plots }) => plots.length > 0);
  if (possible.length === 0)
    throw new RangeError(
      `fault "${part}" is not heard in phase ${wish.phase ?? "any"} on ${wish.machine ?? "any machine"}: leave one of the three open.`,
    );
  const { recipe, plots } = dice.pick(possible);
  const phases = [...new Set(plots.map(({ phase }) => phase))];
  const phase =
    phases[
      dice.weighted(
        phases.map((name) =>
          Math.max(
            ...plots.filter((plot) => plot.phase === name).map(({ likelihood }) => likelihood),
          ),
        ),
      )
    ]!;
  const { profile } = dice.pick(plots.filter((plot) => plot.phase === phase));
  return { recipe, phase, profile };
}

export function normalPlot(wish: PlainWish, dice: Dice): Plot {
  const profile = PROFILES.find(({ id }) => id === wish.machine) ?? dice.pick(PROFILES);
  return { recipe: null, phase: wish.phase ?? dice.pick(NORMAL_PHASES), profile };
}
