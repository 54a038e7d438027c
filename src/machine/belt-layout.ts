/** An open belt round two pulleys; all lengths in one unit. */
export interface BeltLayout {
  /** Length of the belt. */
  readonly length: number;
  /** Straight piece between the pulleys. */
  readonly span: number;
  /** Wrap on the smaller pulley in degrees. */
  readonly smallWrapDeg: number;
}

/**
 * Layout for two pulley diameters and their centre distance:
 * span = sqrt(C^2 - ((D - d) / 2)^2), wrap = 180 - 2 asin((D - d) / 2C), length = 2 span + arcs.
 */
export function beltLayout(
  smallDiameter: number,
  largeDiameter: number,
  centres: number,
): BeltLayout {
  const lean = Math.asin((largeDiameter - smallDiameter) / (2 * centres));
  const span = centres * Math.cos(lean);
  const arcs =
    (smallDiameter / 2) * (Math.PI - 2 * lean) + (largeDiameter / 2) * (Math.PI + 2 * lean);
  return { length: 2 * span + arcs, span, smallWrapDeg: 180 - (2 * lean * 180) / Math.PI };
}

/** The shortest belt that goes round both pulleys: they touch. */
export const shortestBelt = (smallDiameter: number, largeDiameter: number): number =>
  beltLayout(smallDiameter, largeDiameter, (smallDiameter + largeDiameter) / 2).length;

/** Layout for a belt of known length, by bisection on the centre distance; NaN when it is too short. */
export function layoutOfBelt(
  smallDiameter: number,
  largeDiameter: number,
  length: number,
): BeltLayout {
  let low = (smallDiameter + largeDiameter) / 2;
  let high = length;
  if (beltLayout(smallDiameter, largeDiameter, low).length > length) {
    return { length, span: NaN, smallWrapDeg: NaN };
  }
  for (let step = 0; step < 60; step++) {
    const middle = (low + high) / 2;
    if (beltLayout(smallDiameter, largeDiameter, middle).length < length) low = middle;
    else high = middle;
  }
  return beltLayout(smallDiameter, largeDiameter, (low + high) / 2);
}
