import type { Component, Sourced } from "../../machine/words.js";

/** How a part is explained to the owner of the machine. */
export interface OwnerWords extends Sourced {
  readonly component: Component;
  /** Completes "Most likely ..." for somebody who has never seen the inside of a washer. */
  readonly plainly: string;
  /** What the part does and what its wear means for the machine, in one or two sentences. */
  readonly meaning: string;
}

const trade = { source: "common practice, no source", provenance: "common practice" } as const;

export const OWNER_WORDS: readonly OwnerWords[] = [
  {
    component: "drum-bearing",
    plainly: "the bearings that the drum turns on",
    meaning:
      "They carry the drum. Once worn they do not recover: the noise grows over weeks or months, above all in the spin. It is one of the larger repairs, so it is confirmed by hand before anybody quotes for it.",
    ...trade,
  },
  {
    component: "drum-spider",
    plainly: "the metal star behind the drum that holds it to its shaft",
    meaning:
      "It carries the whole drum. If it is cracked, the drum can come loose at speed. Do not use the machine until somebody has looked.",
    ...trade,
  },
  {
    component: "hub-nut",
    plainly: "the nut or block that fixes the drum to its shaft",
    meaning:
      "When it works loose, the drum knocks each time it changes direction. Tightened early it is a small job; left alone it wears the shaft.",
    ...trade,
  },
  {
    component: "drive-belt",
    plainly: "the belt that turns the drum",
    meaning:
      "A worn, dirty or loose belt slips, squeals or slaps. A new one is cheap; the technician also looks for what wore it.",
    ...trade,
  },
  {
    component: "motor-pulley",
    plainly: "the small belt wheel on the motor",
    meaning:
      "Loose or bent it rattles or chirps, faster as the drum speeds up, and it wears the belt.",
    ...trade,
  },
  {
    component: "drum-pulley",
    plainly: "the large belt wheel behind the drum",
    meaning: "Loose or out of true it clicks or knocks once a turn and can throw the belt.",
    ...trade,
  },
  {
    component: "motor-bearing",
    plainly: "the bearings of the motor",
    meaning:
      "They whine or screech and rise in pitch with the spin. The motor still runs but will not for ever.",
    ...trade,
  },
  {
    component: "motor-brushes",
    plainly: "the carbon brushes of the motor",
    meaning:
      "They wear down like a pencil and are made to be replaced. Worn ones crackle; in the end the motor stops.",
    ...trade,
  },
  {
    component: "clutch-splines",
    plainly: "the toothed clutch that joins motor and drum for the spin",
    meaning:
      "Worn teeth grind or ratchet at the start of the spin. The washing still works; the spin will fail in time.",
    ...trade,
  },
  {
    component: "shift-actuator",
    plainly: "the small device that switches between washing and spinning",
    meaning:
      "When it sticks, the machine spins when it should wash or the other way round, or grinds at the change.",
    ...trade,
  },
  {
    component: "gear-case",
    plainly: "the gears under the tub",
    meaning:
      "They growl while the machine washes. Oil under the machine points to them as well. It is a larger repair.",
    ...trade,
  },
  {
    component: "agitator-dogs",
    plainly: "the small ratchet parts inside the agitator",
    meaning:
      "Worn ones click and let the agitator stand still in one direction. They are cheap and reached from above.",
    ...trade,
  },
  {
    component: "motor-coupling",
    plainly: "the rubber coupling between motor and gears",
    meaning:
      "It is made to give way before the gears do. It rattles, then the machine stops turning.",
    ...trade,
  },
  {
    component: "drain-pump",
    plainly: "the pump that empties the water",
    meaning:
      "A coin, a hairpin or a worn shaft makes it rattle or buzz while the water runs out. Often it only needs to be cleared.",
    ...trade,
  },
  {
    component: "suspension",
    plainly: "the springs and dampers that hold the tub",
    meaning:
      "When they are tired, the tub strikes the cabinet as the spin begins. Spin only small, even loads until it is seen to.",
    ...trade,
  },
  {
    component: "counterweight",
    plainly: "one of the heavy blocks that steady the tub",
    meaning:
      "A loose or cracked block knocks hard at every turn and can damage the tub. Do not spin until it is tightened.",
    ...trade,
  },
  {
    component: "unbalanced-load",
    plainly: "laundry that lies on one side of the drum",
    meaning: "Nothing is broken. Spread the laundry, add or take out a piece, and spin again.",
    ...trade,
  },
  {
    component: "levelling",
    plainly: "feet that do not stand evenly",
    meaning: "Nothing is broken. A machine that stands on three feet rocks and drums on the floor.",
    ...trade,
  },
  {
    component: "shipping-bolts",
    plainly: "transport bolts that were left in at the back",
    meaning:
      "They must come out before the first wash. Until then do not spin: the machine can walk and hurt its dampers.",
    ...trade,
  },
  {
    component: "foreign-object",
    plainly: "something small caught between drum and tub",
    meaning:
      "A coin, a wire from a bra or a screw scrapes or rings as the drum turns. Left in, it can cut the tub or the door seal.",
    ...trade,
  },
  {
    component: "loose-panel",
    plainly: "a loose cover, lid or clip",
    meaning: "It buzzes in one range of speed. Annoying, seldom harmful.",
    ...trade,
  },
  {
    component: "balance-ring",
    plainly: "the balance ring of the drum",
    meaning:
      "It evens out the load. When it has lost its filling, the machine thumps and shakes more than it did.",
    ...trade,
  },
  {
    component: "rotor-stator",
    plainly: "the flat motor behind the drum",
    meaning:
      "Something rubs or has come loose between its turning and its fixed half. The drum bearings are checked at the same time.",
    ...trade,
  },
  {
    component: "door-boot",
    plainly: "the rubber seal of the door",
    meaning: "Dry rubber squeaks on the drum. Harmless unless it is cut; a cut seal leaks.",
    ...trade,
  },
  {
    component: "inlet-valve",
    plainly: "the valve that lets the water in",
    meaning:
      "It hums while water runs and may bang when it closes. A loud buzz can mean that it sticks.",
    ...trade,
  },
  {
    component: "controls",
    plainly: "the electrical controls",
    meaning:
      "Relays click and drives whine in a healthy machine too. Checking them is work for trained people.",
    ...trade,
  },
  {
    component: "drum-lifter",
    plainly: "a loose paddle inside the drum",
    meaning:
      "It clacks while the drum turns slowly and is quiet in the spin. A small repair from the front.",
    ...trade,
  },
  {
    component: "spin-brake",
    plainly: "the brake or clutch of the drum",
    meaning:
      "It squeals or groans as the drum slows down. If the drum goes on turning with the lid open, stop using the machine.",
    ...trade,
  },
  {
    component: "recirculation-pump",
    plainly: "the second pump, which sprays water over the laundry",
    meaning: "It hums or rattles during the wash. Often it only needs to be cleared.",
    ...trade,
  },
];
