import { spanSpread } from "../clock-rates.js";
import type { LineKind } from "../expected-line.js";
import {
  planetaryMotion,
  planetaryRates,
  ringHeldReduction,
  type PlanetaryRates,
  type PlanetaryTeeth,
} from "../planetary.js";
import { planetsInPhase, survivingCarrierOrders } from "../planet-phasing.js";
import type { MachineProfile, Span } from "../profile.js";
import { windowsAround } from "../windows.js";
import { asId, type LineDraft, type LineInputs } from "./draft.js";

const RIGID = 0.01;

interface GearEvent {
  readonly rate: keyof PlanetaryRates;
  readonly key: string;
  readonly kind: LineKind;
  readonly healthy: boolean;
  readonly seenIn: "envelope" | "spectrum";
  /** A damaged tooth meets its load once per carrier turn. */
  readonly carrierSidebands: boolean;
  readonly label: string;
  readonly meaning: string;
}

const EVENTS: readonly GearEvent[] = [
  {
    rate: "mesh",
    key: "mesh",
    kind: "gear-mesh",
    healthy: true,
    seenIn: "spectrum",
    carrierSidebands: true,
    label: "planetary gear, teeth in mesh",
    meaning: "Growls while the agitator moves, silent in the spin, where the set is locked.",
  },
  {
    rate: "planetPass",
    key: "planet-pass",
    kind: "planet-pass",
    healthy: true,
    seenIn: "envelope",
    carrierSidebands: false,
    label: "planetary gear, planets passing",
    meaning: "Planets pass a place of the ring; a notch here is a damaged ring tooth.",
  },
  {
    rate: "sunFault",
    key: "sun-tooth",
    kind: "gear-fault",
    healthy: false,
    seenIn: "envelope",
    carrierSidebands: true,
    label: "planetary gear, damaged sun tooth",
    meaning: "Every planet in turn strikes the damaged tooth of the sun.",
  },
  {
    rate: "planetFault",
    key: "planet-tooth",
    kind: "gear-fault",
    healthy: false,
    seenIn: "envelope",
    carrierSidebands: true,
    label: "planetary gear, damaged planet tooth",
    meaning: "Once per turn of the planet, twice when the tooth strikes sun and ring alike.",
  },
];

/**
 * Rates of an event per motor turn. The mesh of planets out of step shows at the neighbouring
 * multiples of the planets' passing instead of at the mesh itself.
 */
function ratesOf(
  teeth: PlanetaryTeeth,
  sunPerMotor: number,
  rate: keyof PlanetaryRates,
): readonly number[] {
  const { ring, planets } = teeth;
  const motion = planetaryMotion(teeth, sunPerMotor);
  if (rate !== "mesh" || planetsInPhase(ring, planets))
    return [planetaryRates(teeth, motion)[rate]];
  const orders = survivingCarrierOrders(ring, planets, planets - 1);
  return orders.map((order) => order * motion.carrier);
}

function eventLines(
  event: GearEvent,
  sets: readonly PlanetaryTeeth[],
  motorToSun: Span,
): LineDraft[] {
  const { rate, key, carrierSidebands, ...words } = event;
  const sunPerMotor = 1 / motorToSun.typical;
  const perMotorTurn = sets.flatMap((teeth) => ratesOf(teeth, sunPerMotor, rate));
  const windows = windowsAround(perMotorTurn, RIGID + spanSpread(motorToSun));
  const carrierPerMotor = sunPerMotor / ringHeldReduction(sets[0]!);
  return windows.map((window) => ({
    ...words,
    ...window,
    id: windows.length === 1 ? `gear-case/${key}` : `gear-case/${key}/${asId(window.multiple)}`,
    part: "gear-case",
    clock: "motor",
    sidebandMultiple: carrierSidebands ? carrierPerMotor : null,
    source:
      "planetary set with the ring held (Randall 2011, section 2.2); tooth counts worked out for 5:1",
    provenance: "computed",
  }));
}

const pinionLine = (teeth: number): LineDraft => ({
  id: `gear-case/pinion/${teeth}`,
  part: "gear-case",
  kind: "gear-mesh",
  clock: "motor",
  multiple: teeth,
  tolerance: 0.003,
  seenIn: "spectrum",
  healthy: true,
  sidebandMultiple: 1,
  label: `gear case, motor pinion of ${teeth} teeth`,
  meaning: "Teeth in mesh while the agitator moves; raised and growling when worn.",
  source: "teeth times the pinion's rate",
  provenance: "computed",
});

const planetaryLines = ({ planetary, motorToAgitatorInput }: MachineProfile): LineDraft[] =>
  planetary === null || motorToAgitatorInput === null
    ? []
    : EVENTS.flatMap((event) => eventLines(event, planetary.sets, motorToAgitatorInput));

/**
 * Lines of a top loader's gears, in turns of the motor; only while they mesh.
 *
 * Where neither teeth nor pulleys are known the mesh of all sets in use becomes one wide window.
 */
export function gearLines({ profile, running }: LineInputs): LineDraft[] {
  if (!running.gears) return [];
  return [...planetaryLines(profile), ...(profile.pinionTeeth?.values ?? []).map(pinionLine)];
}
