import type { ElectricalUnit } from "./quantity.js";

const digits = (value: number): string => String(Number(value.toPrecision(5)));

/** `0.15 Ω`, `5400 Ω`, `12.5 kΩ`, `2 MΩ`, `open`; five figures at most. */
export function formatOhm(ohm: number): string {
  if (ohm === Infinity) return "open";
  const size = Math.abs(ohm);
  if (size >= 1e6) return `${digits(ohm / 1e6)} MΩ`;
  if (size >= 1e4) return `${digits(ohm / 1e3)} kΩ`;
  return `${size < 1e-9 ? "0" : digits(ohm)} Ω`;
}

/** `12.5 µF`, `470 nF`; five figures at most. */
function formatFarad(farad: number): string {
  if (farad === Infinity) return "open";
  return Math.abs(farad) >= 1e-6 ? `${digits(farad * 1e6)} µF` : `${digits(farad * 1e9)} nF`;
}

export const formatQuantity = (value: number, unit: ElectricalUnit): string =>
  unit === "ohm" ? formatOhm(value) : formatFarad(value);
