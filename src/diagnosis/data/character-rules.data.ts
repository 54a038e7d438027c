import type { FeatureId } from "../../evidence/features.data.js";
import type { Character, Sourced } from "../../machine/words.js";
import type { Presence } from "../rule.js";

/** Evidence for one kind of sound: log-odds when the pattern is there, and when it is not. */
export interface CharacterRule extends Sourced {
  readonly character: Exclude<Character, "none">;
  readonly feature: FeatureId;
  readonly presence: Presence;
  readonly present: number;
  readonly absent: number;
}

/** Log-odds of each character before anything is heard. */
export const CHARACTER_BIAS: Readonly<Record<Exclude<Character, "none">, number>> = {
  grinding: -1,
  whirring: -1,
  thumping: -1,
  squealing: -1,
  rattling: -1,
  humming: -1,
};

const definition = {
  source:
    "measurable definition of the word; thresholds from sounds made with several phones and rooms",
  provenance: "from memory",
} as const;

export const CHARACTER_RULES: readonly CharacterRule[] = [
  {
    character: "grinding",
    feature: "roughness",
    presence: { form: "above", at: 0.3, width: 0.07 },
    present: 2.2,
    absent: -2,
    ...definition,
  },
  {
    character: "grinding",
    feature: "roughness-periodic",
    presence: { form: "below", at: 0.4, width: 0.1 },
    present: 0.5,
    absent: -0.7,
    ...definition,
  },
  {
    character: "grinding",
    feature: "tone-share",
    presence: { form: "below", at: 0.15, width: 0.04 },
    present: 0.4,
    absent: -0.6,
    ...definition,
  },
  {
    character: "grinding",
    feature: "impulsiveness",
    presence: { form: "above", at: 0.5, width: 0.15 },
    present: 0.5,
    absent: -0.8,
    ...definition,
  },
  {
    character: "grinding",
    feature: "impulsiveness",
    presence: { form: "above", at: 6, width: 1.2 },
    present: -1,
    absent: 0,
    ...definition,
  },
  {
    character: "grinding",
    feature: "stroke-growl",
    presence: { form: "above", at: 4, width: 1.2 },
    present: 0.8,
    absent: 0,
    ...definition,
  },
  {
    character: "whirring",
    feature: "tone-share",
    presence: { form: "above", at: 0.15, width: 0.04 },
    present: 2.2,
    absent: -1.6,
    ...definition,
  },
  {
    character: "whirring",
    feature: "tone-prominence",
    presence: { form: "above", at: 2, width: 1.5 },
    present: 0.8,
    absent: -0.8,
    ...definition,
  },
  {
    character: "whirring",
    feature: "squeal-swing",
    presence: { form: "above", at: 12, width: 2 },
    present: -1.4,
    absent: 0.1,
    ...definition,
  },
  {
    character: "thumping",
    feature: "turn-impact",
    presence: { form: "p" },
    present: 1.8,
    absent: -0.6,
    ...definition,
  },
  {
    character: "thumping",
    feature: "turn-impact-low",
    presence: { form: "above", at: 3, width: 0.8 },
    present: 1.8,
    absent: -1,
    ...definition,
  },
  {
    character: "thumping",
    feature: "impulsiveness-low",
    presence: { form: "above", at: 1, width: 0.3 },
    present: 0.8,
    absent: -0.4,
    ...definition,
  },
  {
    character: "thumping",
    feature: "single-bang",
    presence: { form: "above", at: 12, width: 3 },
    present: 0.6,
    absent: 0,
    ...definition,
  },
  {
    character: "squealing",
    feature: "squeal-swing",
    presence: { form: "above", at: 10, width: 1.5 },
    present: 1.8,
    absent: -2,
    ...definition,
  },
  {
    character: "squealing",
    feature: "squeal-prominence",
    presence: { form: "above", at: 15, width: 2 },
    present: 1.6,
    absent: -1.6,
    ...definition,
  },
  {
    character: "rattling",
    feature: "impulsiveness",
    presence: { form: "above", at: 4, width: 1 },
    present: 2,
    absent: -1.4,
    ...definition,
  },
  {
    character: "rattling",
    feature: "impulse-rate",
    presence: { form: "above", at: 3, width: 0.8 },
    present: 0.5,
    absent: -0.5,
    ...definition,
  },
  {
    character: "rattling",
    feature: "ping",
    presence: { form: "above", at: 12, width: 2.5 },
    present: 0.6,
    absent: -0.1,
    ...definition,
  },
  {
    character: "rattling",
    feature: "pump-knock",
    presence: { form: "above", at: 3, width: 0.8 },
    present: 0.6,
    absent: 0,
    ...definition,
  },
  {
    character: "rattling",
    feature: "stroke-rattle",
    presence: { form: "above", at: 3, width: 0.8 },
    present: 0.8,
    absent: 0,
    ...definition,
  },
  {
    character: "rattling",
    feature: "start-clatter",
    presence: { form: "above", at: 6, width: 1.5 },
    present: 0.5,
    absent: 0,
    ...definition,
  },
  {
    character: "humming",
    feature: "mains-share",
    presence: { form: "above", at: 0.2, width: 0.05 },
    present: 2.2,
    absent: -2,
    ...definition,
  },
  {
    character: "humming",
    feature: "mains-comb",
    presence: { form: "above", at: 15, width: 3 },
    present: 0.5,
    absent: -0.5,
    ...definition,
  },
  {
    character: "humming",
    feature: "fixed-buzz",
    presence: { form: "above", at: 8, width: 1.5 },
    present: 0.5,
    absent: 0,
    ...definition,
  },
];
