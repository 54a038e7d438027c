import { logSumExp } from "../foundation/statistics.js";
import type { Washer } from "../machine/profile.js";
import { CHARACTERS, type Component } from "../machine/words.js";
import { whereOnePhaseWasChosen } from "./chosen-phase.js";
import type { Contribution } from "./contributions.js";
import { CALIBRATION } from "./data/calibration.data.js";
import { overPhases } from "./phase-mixture.js";
import { priorOf, type Circumstances } from "./prior.js";
import { soundsOfPart } from "./sounds-of-part.js";
import type { PhaseView } from "./view.js";

/** One part of the ranking with everything that moved it. */
export interface RankedComponent {
  readonly component: Component;
  readonly probability: number;
  /** Sum of evidence in nats, relative to nothing heard. */
  readonly nats: number;
  readonly priorChance: number;
  readonly phaseNats: number;
  readonly characterNats: number;
  readonly contributions: readonly Contribution[];
}

export type RecordingClass = keyof typeof CALIBRATION.temperature;

function characterNats(component: Component, view: PhaseView): number {
  const sounds = soundsOfPart(component);
  let sum = 0;
  for (const clip of view.clips) {
    let likelihood = 0;
    for (const character of CHARACTERS) {
      likelihood += sounds[character] * clip.character.shares[character];
    }
    sum += Math.log(Math.max(likelihood, 1e-4) * CHARACTERS.length);
  }
  return (CALIBRATION.characterWeight * view.heard * sum) / view.clips.length;
}

/**
 * Ranks the washer's parts: score = ln prior + Σ over views of (phase + character + rules), and
 * probability = softmax(score / temperature). Sorted, sums to 1, always holds `normal` and `other`.
 */
export function rankComponents(
  views: readonly PhaseView[],
  washer: Washer,
  circumstances: Circumstances,
  recordingClass: RecordingClass,
): RankedComponent[] {
  const usual = priorOf(washer, circumstances);
  const prior = views.length === 1 ? whereOnePhaseWasChosen(usual, washer) : usual;
  const components = [...prior.keys()];
  const perView = views.map((view) => overPhases(view, components, washer));
  const rows = components.map((component) => {
    const said = perView.map((map) => map.get(component)!);
    const contributions = said.flatMap((one) => one.contributions);
    const phase = said.reduce((sum, one) => sum + one.phaseNats, 0);
    const character = views.reduce((sum, view) => sum + characterNats(component, view), 0);
    const rules = contributions.reduce((sum, one) => sum + one.nats, 0);
    return {
      component,
      contributions,
      priorChance: prior.get(component)!,
      phaseNats: phase,
      characterNats: character,
      nats: phase + character + rules,
    };
  });
  const temperature = CALIBRATION.temperature[recordingClass];
  const scores = rows.map((row) => (Math.log(row.priorChance) + row.nats) / temperature);
  const total = logSumExp(scores);
  return rows
    .map((row, i) => ({ ...row, probability: Math.exp(scores[i]! - total) }))
    .sort((a, b) => b.probability - a.probability);
}
