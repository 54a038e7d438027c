import type { Dice } from "./dice.js";
import type { Drive } from "./drive.js";
import { heightAt, type Surface } from "./surface.js";
import type { Washer } from "./washer.js";

/** Belt turns per motor turn: π d / L. */
export function beltPerMotorTurn(w: Washer): number {
  return (Math.PI * w.motorPulleyMm) / w.beltMm;
}

/** Height of the belt's back and ribs along the loop: even, with one damaged stretch. */
export function damagedBelt(dice: Dice, kind: "lump" | "frayed"): Surface {
  const size = 16384;
  const out = new Float32Array(size);
  const length = Math.floor(
    size * (kind === "lump" ? dice.range(0.006, 0.02) : dice.range(0.04, 0.12)),
  );
  if (kind === "lump") {
    for (let i = 0; i < length; i++)
      out[i] = Math.pow(Math.sin((Math.PI * i) / length), 0.7) + 0.15 * dice.gauss();
    return out;
  }
  const cords = dice.whole(4, 14);
  for (let c = 0; c < cords; c++) {
    const at = dice.whole(0, length);
    const width = dice.whole(12, 50);
    const h = dice.range(0.3, 1.2);
    for (let k = 0; k < width; k++) out[(at + k) % size]! += h * Math.sin((Math.PI * k) / width);
  }
  return out;
}

/** Force where the damaged stretch runs onto and off the two pulleys. */
export function beltForce(w: Washer, d: Drive, belt: Surface, dice: Dice): Float32Array {
  const rate = beltPerMotorTurn(w);
  const smallWrap = ((w.topLoad ? 0.44 : 0.38) * Math.PI * w.motorPulleyMm) / w.beltMm;
  const largeWrap = (0.6 * Math.PI * w.drumPulleyMm) / w.beltMm;
  const span = Math.max(0.05, (1 - smallWrap - largeWrap) / 2);
  const edges = [
    [0, 1],
    [smallWrap, 0.5],
    [smallWrap + span, dice.range(0.3, 0.9)],
    [smallWrap + span + largeWrap, dice.range(0.15, 0.5)],
  ] as const;
  const out = new Float32Array(d.length);
  for (let i = 0; i < d.length; i++) {
    const s = d.motorTurns[i]! * rate;
    let f = 0;
    for (const [at, weight] of edges) f += weight * heightAt(belt, s - at);
    out[i] = f * Math.sqrt(Math.abs(d.drumHz[i]!) + Math.abs(d.agitatorHz[i]!));
  }
  return out;
}

/** How much the belt slips, m/s: where the torque asks more than the friction of the wrap gives. */
export function beltSlip(w: Washer, d: Drive, grip: number): Float32Array {
  const out = new Float32Array(d.length);
  let slip = 0;
  const k = 1 - Math.exp(-20 / d.sampleRateHz);
  for (let i = 0; i < d.length; i++) {
    const over = Math.abs(d.torque[i]!) - grip;
    const speed = Math.PI * 0.001 * w.motorPulleyMm * Math.abs(d.motorHz[i]!);
    const wanted = over > 0 && d.power[i]! > 0.5 ? Math.min(0.5 * speed + 0.1, 2.5 * over) : 0;
    slip += k * (wanted - slip);
    out[i] = slip;
  }
  return out;
}
