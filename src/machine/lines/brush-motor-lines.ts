import type { LineDraft, MotorView } from "./draft.js";

const RIGID = 0.003;

/** Brushed universal motor: commutator bars and armature slots. Brushes chatter unpowered too. */
export function brushMotorLines(view: MotorView): LineDraft[] {
  const { profile, running, clock, seenIn, some } = view;
  const { bars, slots } = profile.motor;
  const barLines = some(bars?.values ?? []).map((count): LineDraft => ({
    id: `motor-brushes/bars/${count}`,
    part: "motor-brushes",
    kind: "commutator",
    clock,
    multiple: count,
    tolerance: RIGID,
    seenIn: seenIn(count),
    healthy: true,
    sidebandMultiple: 1,
    label: `commutator, ${count} bars`,
    meaning:
      "Brushes pass the bars; lines one motor turn to each side of it mean a poor bar or brush.",
    source: `bars times the motor's rate; ${bars?.source ?? ""}`,
    provenance: bars?.provenance ?? "from memory",
  }));
  if (!running.powered) return barLines;
  // Half as many slots as bars put the bars on the slots' second harmonic: one count is enough.
  const slotLines = some(slots?.values ?? []).map((count): LineDraft => ({
    id: `motor/armature-slots/${count}`,
    part: "normal",
    kind: "armature-slot",
    clock,
    multiple: count,
    tolerance: RIGID,
    seenIn: seenIn(count),
    healthy: true,
    sidebandMultiple: null,
    label: `armature, ${count} slots`,
    meaning: "The whine of a sound brushed motor under load.",
    source: `slots times the motor's rate; ${slots?.source ?? ""}`,
    provenance: slots?.provenance ?? "from memory",
  }));
  return [...barLines, ...(view.pooled ? slotLines.slice(0, 1) : slotLines)];
}
