import type { LineKind } from "../expected-line.js";
import { magnetMotorOrders } from "../permanent-magnet.js";
import type { LineDraft, MotorView } from "./draft.js";

interface NamedOrder {
  readonly kind: LineKind;
  readonly order: number;
  readonly name: string;
}

/** Torque ripple and radial pull need current; cogging does not. */
function ordersOf(slots: number, poles: number, powered: boolean): NamedOrder[] {
  const orders = magnetMotorOrders(slots, poles);
  const cogging: NamedOrder = { kind: "cogging", order: orders.cogging, name: "cogging" };
  if (!powered) return [cogging];
  return [
    { kind: "pole-pass", order: orders.radialForce, name: "pull of the poles" },
    { kind: "torque-ripple", order: orders.torqueRipple, name: "torque ripple" },
    cogging,
  ];
}

/**
 * Permanent-magnet motors. Several slot and pole pairs share orders; each order is named once.
 * Lines are those of a sound motor: a fault shows as companions one turn to each side.
 */
export function magnetLines(view: MotorView): LineDraft[] {
  const { profile, running, clock, seenIn, some } = view;
  const direct = profile.motor.kind === "permanent-magnet-direct";
  const part = direct ? "rotor-stator" : "normal";
  const byOrder = new Map<number, NamedOrder[]>();
  for (const [slots, poles] of some(profile.motor.slotPolePairs)) {
    for (const named of ordersOf(slots, poles, running.powered)) {
      const sameOrder = byOrder.get(named.order) ?? [];
      if (sameOrder.some(({ kind }) => kind === named.kind)) continue;
      byOrder.set(named.order, [...sameOrder, named]);
    }
  }
  return [...byOrder].map(([order, names]) => ({
    id: `${direct ? "rotor-stator" : "motor"}/magnet/${order}`,
    part,
    kind: names[0]!.kind,
    clock,
    multiple: order,
    tolerance: 0.003,
    seenIn: seenIn(order),
    healthy: true,
    sidebandMultiple: direct ? 1 : null,
    label: `magnet motor, ${names.map(({ name }) => name).join(" or ")}, ${order} a turn`,
    meaning: direct
      ? "The motor's own whine; lines one turn to each side of it mean a rub or an uneven magnet."
      : "The thin whine of a sound brushless motor.",
    source: "2p, 6p and lcm(slots, 2p) of the slot and pole counts in use, recalled",
    provenance: "computed",
  }));
}
