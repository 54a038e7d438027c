import type { Component, Sourced } from "../../machine/words.js";
import type { TestCautionId } from "../checks/hand-test.js";

export interface CautionRow extends Sourced {
  /** Parts it belongs to; empty: always told, unless it belongs to checks alone. */
  readonly components: readonly Component[];
  /** Also told with a check that carries one of these warnings, whatever the part. */
  readonly withChecks?: readonly TestCautionId[];
  readonly text: string;
  /** The same in a few words, for a screen that is full. */
  readonly short?: string;
  /** No test that spins the machine either. */
  readonly nospin?: true;
}

const trade = { source: "common practice, no source", provenance: "common practice" } as const;

/** Told where somebody is asked to run a noisy machine again so that it can be recorded. */
export const RUN_AGAIN: readonly CautionRow[] = [
  {
    components: [],
    text: "While it runs: stand clear, every cover on, door or lid shut, no hand in or under the machine.",
    ...trade,
  },
  {
    components: [],
    text: "Switch it off and do not run it again at a burning smell, sparks, water near anything electric, or the drum striking the cabinet.",
    ...trade,
  },
];

/** Told behind a reason to stop that forbids running the machine, where the answer is to record again. */
export const RECORDING_WAITS: CautionRow = {
  components: [],
  text: "Another recording has to wait until then: do not run the machine for it.",
  ...trade,
};

/** Told first: reasons to stop using the machine now. */
export const STOP_USE: readonly CautionRow[] = [
  {
    components: ["drum-spider"],
    text: "Stop using the machine until the drum is checked: a broken spider can let the drum break through the tub.",
    nospin: true,
    ...trade,
  },
  {
    components: ["drum-bearing"],
    text: "Stop using it if the drum lip moves more than 6 mm by hand, metal grinds on metal, it smells burnt, or rusty water comes from the rear.",
    ...trade,
  },
  {
    components: ["shipping-bolts"],
    text: "Stop spinning until somebody has looked for shipping bolts: the machine can walk and tear its dampers.",
    nospin: true,
    ...trade,
  },
  {
    components: ["foreign-object", "door-boot"],
    text: "Stop using it if the drum touches the door glass or the boot is cut: it will leak.",
    ...trade,
  },
];

export const CAUTIONS: readonly CautionRow[] = [
  {
    components: [],
    text: "Before any hand inside: pull the plug, keep it in sight, wait 5 minutes; never run the machine with covers off or the lid or door lock defeated.",
    ...trade,
  },
  {
    components: ["drain-pump", "recirculation-pump", "inlet-valve"],
    withChecks: ["water"],
    text: "Up to 10 litres of water, perhaps hot, stay in the machine: let it cool, drain it low into a tray, dry the floor before power returns.",
    short: "up to 10 litres of water, perhaps hot: let it cool and drain it",
    ...trade,
  },
  {
    components: [
      "gear-case",
      "clutch-splines",
      "shift-actuator",
      "motor-coupling",
      "spin-brake",
      "agitator-dogs",
    ],
    withChecks: ["tipping"],
    text: "Drain the machine before tipping it, tip it with two people, protect the floor and block it so that it cannot fall.",
    short: "drain before tipping, tip with two people, block it",
    ...trade,
  },
  {
    components: ["drive-belt", "motor-pulley", "drum-pulley"],
    withChecks: ["pinch"],
    text: "Belt and pulley pinch: turn them with the flat hand, fingers away from the groove.",
    short: "belt and pulleys pinch: flat hand",
    ...trade,
  },
  {
    components: ["counterweight", "drum-bearing", "drum-spider", "balance-ring"],
    withChecks: ["heavy"],
    text: "Heavy parts: counterweights weigh 10 to 25 kg, the machine 60 to 90 kg; lift with two people.",
    short: "counterweights 10 to 25 kg, machine 60 to 90 kg: two people",
    ...trade,
  },
  {
    components: ["suspension"],
    withChecks: ["springs"],
    text: "Hanging springs are under load: use a spring hook and eye protection.",
    short: "loaded springs: spring hook, eye protection",
    ...trade,
  },
  {
    components: ["motor-bearing", "motor-brushes", "controls"],
    withChecks: ["charged"],
    text: "Motor capacitors and inverters stay charged: discharge through a resistor; measurements under power are for licensed or trained people under local rules.",
    short:
      "capacitors and inverters stay charged: discharge; live measurement for licensed people only, by local rules",
    ...trade,
  },
  {
    components: ["rotor-stator"],
    withChecks: ["magnets"],
    text: "The rotor's magnets pull hard: mind your fingers, keep away with a pacemaker.",
    short: "strong magnets: fingers, pacemaker",
    ...trade,
  },
  {
    components: [],
    withChecks: ["edges"],
    text: "Sheet-metal edges cut: wear gloves.",
    short: "sharp edges: gloves",
    ...trade,
  },
];
