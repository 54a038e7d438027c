import type { Component, Sourced } from "../../machine/words.js";

/** What a reading is compared with. */
export const READING_KINDS = [
  "resistance",
  "closed",
  "open",
  "windings",
  "capacitor",
  "sensor",
  "earth",
] as const;
export type ReadingKind = (typeof READING_KINDS)[number];

/** A place in the machine where a meter is put. */
export interface MeterPoint extends Sourced {
  readonly id: string;
  readonly label: string;
  /** The part that a bad reading points at; null when no noise comes of it. */
  readonly component: Component | null;
  readonly kind: ReadingKind;
  /** How to come by a reading that belongs to the part alone. */
  readonly prepare: string;
  /** What a good reading does not show. */
  readonly passLimits: string;
}

const trade = { source: "common practice, no source", provenance: "common practice" } as const;
const NOT_THE_BEARING =
  "A good coil clears the winding only: bush, shaft and impeller can still be worn.";

export const METER_POINTS = [
  {
    id: "drain-pump",
    label: "drain pump coil",
    component: "drain-pump",
    kind: "resistance",
    prepare: "Pull both connectors off the pump and measure across its terminals.",
    passLimits: NOT_THE_BEARING,
    ...trade,
  },
  {
    id: "recirculation-pump",
    label: "recirculation pump coil",
    component: "recirculation-pump",
    kind: "resistance",
    prepare: "Pull both connectors off the pump and measure across its terminals.",
    passLimits: NOT_THE_BEARING,
    ...trade,
  },
  {
    id: "shift-actuator",
    label: "mode shifter motor or coil",
    component: "shift-actuator",
    kind: "resistance",
    prepare: "Unplug the shifter's harness and measure at the shifter, not at the board.",
    passLimits: "A good coil does not show that the cam moves: check the position switch as well.",
    ...trade,
  },
  {
    id: "shift-switch",
    label: "mode shifter position switch",
    component: "shift-actuator",
    kind: "closed",
    prepare: "Unplug the harness, set the cam so that the pair should be closed.",
    passLimits: "Turn the cam as well: the same pair must then open.",
    ...trade,
  },
  {
    id: "inlet-valve",
    label: "inlet valve coil",
    component: "inlet-valve",
    kind: "resistance",
    prepare: "Pull both connectors off that coil; measure hot and cold coils one by one.",
    passLimits:
      "A good coil can still hum: the plunger or the pressure of the tap may be the cause.",
    ...trade,
  },
  {
    id: "motor-windings",
    label: "three-wire motor windings",
    component: null,
    kind: "windings",
    prepare: "Unplug the motor's connector and measure all three pairs of its pins.",
    passLimits: "Equal windings say nothing of the motor's bearings.",
    ...trade,
  },
  {
    id: "direct-drive-stator",
    label: "direct-drive stator windings",
    component: "rotor-stator",
    kind: "windings",
    prepare: "Unplug the stator's connector and measure all three pairs of its pins.",
    passLimits:
      "Equal windings do not clear the magnets or the gap: take the rotor off to see them.",
    ...trade,
  },
  {
    id: "motor-winding",
    label: "motor winding (start, run or field)",
    component: null,
    kind: "resistance",
    prepare: "Unplug the motor's connector; the sheet gives a value for each pair of pins.",
    passLimits: "A good winding says nothing of the motor's bearings.",
    ...trade,
  },
  {
    id: "motor-brushes",
    label: "brushes and armature",
    component: "motor-brushes",
    kind: "resistance",
    prepare: "Measure brush to brush; turn the armature slowly and watch for jumps.",
    passLimits: "Measure the length of the brushes and look at the commutator as well.",
    ...trade,
  },
  {
    id: "tacho-coil",
    label: "motor speed sensor coil",
    component: null,
    kind: "resistance",
    prepare: "Unplug the motor's connector and measure the two thin wires.",
    passLimits: "A good coil does not show that its magnet still sits on the shaft.",
    ...trade,
  },
  {
    id: "motor-capacitor",
    label: "motor capacitor",
    component: null,
    kind: "capacitor",
    prepare: "Discharge it through a resistor, take one wire off, then measure.",
    passLimits: "Replace a bulged or leaking capacitor whatever it reads.",
    ...trade,
  },
  {
    id: "door-switch",
    label: "door or lid switch",
    component: null,
    kind: "closed",
    prepare: "Unplug its connector, close the door or press the switch.",
    passLimits: "Open the door as well: the same pair must then open.",
    ...trade,
  },
  {
    id: "pressure-switch",
    label: "water level switch",
    component: null,
    kind: "closed",
    prepare: "Unplug its connector; the sheet says which pair is closed with the tub empty.",
    passLimits: "Blow gently into its hose as well: the pair must change over with a click.",
    ...trade,
  },
  {
    id: "door-lock",
    label: "door lock heater or coil",
    component: null,
    kind: "resistance",
    prepare: "Unplug its connector and let the lock cool: its heater reads more when warm.",
    passLimits: "A good coil does not show that the bolt moves.",
    ...trade,
  },
  {
    id: "heater",
    label: "water heater",
    component: null,
    kind: "resistance",
    prepare: "Pull both connectors off the heater.",
    passLimits: "Measure it to earth as well.",
    ...trade,
  },
  {
    id: "temperature-sensor",
    label: "temperature sensor",
    component: null,
    kind: "sensor",
    prepare: "Unplug the sensor and let it take the temperature of the room.",
    passLimits:
      "One good point does not show the whole curve: warm it in the hand and watch it move.",
    ...trade,
  },
  {
    id: "other",
    label: "part",
    component: null,
    kind: "resistance",
    prepare: "Unplug the part on at least one side, so that nothing else is measured with it.",
    passLimits: "A good reading clears the circuit measured, not the mechanics.",
    ...trade,
  },
] as const satisfies readonly MeterPoint[];
