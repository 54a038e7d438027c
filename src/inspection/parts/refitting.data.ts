import type { RefittingNote } from "./kit.js";

const trade = { source: "common practice, no source", provenance: "common practice" } as const;

/** What saves the second visit. */
export const REFITTING: readonly RefittingNote[] = [
  {
    components: ["clutch-splines", "shift-actuator", "gear-case"],
    axis: "vertical",
    text: "Put the spring in first, then the clutch slider over it.",
    ...trade,
  },
  {
    components: ["clutch-splines", "gear-case"],
    axis: "vertical",
    text: "Grease the splines with silicone grease; ordinary grease swells plastic and throws off.",
    ...trade,
  },
  {
    components: ["shift-actuator", "clutch-splines", "motor-coupling", "gear-case", "drive-belt"],
    axis: "vertical",
    text: "While the machine is tipped keep the drain hose above the water line, or what is left in the tub runs out over the floor.",
    ...trade,
  },
  {
    components: [
      "shift-actuator",
      "clutch-splines",
      "gear-case",
      "motor-bearing",
      "motor-brushes",
      "motor-coupling",
      "rotor-stator",
    ],
    text: "Put the ground strap back on its own screw, metal to metal, before the plug goes in.",
    ...trade,
  },
  {
    components: [
      "drive-belt",
      "drum-pulley",
      "motor-pulley",
      "gear-case",
      "drum-bearing",
      "motor-bearing",
    ],
    text: "Roll the belt on by turning the large pulley with the flat hand; do not lever it over the rim. See that every rib sits in its groove, then turn it round twice.",
    ...trade,
  },
  {
    components: ["drum-bearing", "drum-spider"],
    text: "Drive bearings in by the ring that carries the fit, seal lip greased and towards the water; tighten the tub bolts crosswise.",
    ...trade,
  },
  {
    components: ["drain-pump", "recirculation-pump"],
    text: "Clamp the hose behind the bead of the spigot, then run a drain with the machine still open to view and the floor dry.",
    ...trade,
  },
  {
    components: ["suspension"],
    axis: "vertical",
    text: "Change all four rods: old and new springs side by side leave the tub leaning. Grease the cups.",
    ...trade,
  },
  {
    components: ["suspension"],
    axis: "horizontal",
    text: "Change dampers in pairs; see that each pin has clicked.",
    ...trade,
  },
  {
    components: ["rotor-stator"],
    text: "Let the rotor down square on its splines, fingers clear: the magnets pull it home.",
    ...trade,
  },
  {
    components: ["door-boot"],
    text: "Drain holes of the boot go to the bottom; the band's spring lies where the hand reaches it.",
    ...trade,
  },
  {
    components: ["motor-brushes"],
    text: "See that the new brushes slide freely and that their bevel faces as the old ones did.",
    ...trade,
  },
  {
    components: ["counterweight", "drum-pulley", "hub-nut"],
    text: "Clean the thread, use thread-locking compound, tighten to the sheet's torque.",
    ...trade,
  },
  {
    components: ["inlet-valve"],
    text: "New washers in the hoses, screens clean, tap opened slowly; look for drips after five minutes.",
    ...trade,
  },
];
