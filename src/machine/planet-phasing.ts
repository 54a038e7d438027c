/** True when all planets mesh in step: the ring's teeth are a multiple of the planets. */
export const planetsInPhase = (ringTeeth: number, planets: number): boolean =>
  ringTeeth % planets === 0;

/**
 * Carrier orders near the mesh that survive when equally spaced planets pass one place of the ring:
 * only multiples of the number of planets. With planets out of step the mesh order itself is absent.
 * Ascending, within `reach` orders of the mesh. Source: McFadden and Smith, Proc. IMechE C 199 (1985).
 */
export function survivingCarrierOrders(
  ringTeeth: number,
  planets: number,
  reach: number,
): number[] {
  const first = Math.ceil((ringTeeth - reach) / planets);
  const last = Math.floor((ringTeeth + reach) / planets);
  return Array.from({ length: Math.max(0, last - first + 1) }, (_, i) => (first + i) * planets);
}
