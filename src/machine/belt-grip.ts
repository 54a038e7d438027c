/**
 * Largest ratio of tight to slack strand tension before a belt slips (Euler and Eytelwein).
 *
 * Flat: e^(mu a). Wedge belts press into their groove: e^(mu a / sin(b / 2)), with the wrap a in
 * degrees on the smaller pulley and the groove angle b in degrees (about 40 for ribbed and V-belts;
 * null for a flat one). Source: any machine-elements textbook.
 */
export function gripTensionRatio(
  friction: number,
  wrapDeg: number,
  grooveDeg: number | null = null,
): number {
  const wedge = grooveDeg === null ? 1 : Math.sin(((grooveDeg / 2) * Math.PI) / 180);
  return Math.exp((friction * wrapDeg * Math.PI) / 180 / wedge);
}
