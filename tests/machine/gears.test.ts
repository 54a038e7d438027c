import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { gearMeshHz, pairRates } from "../../src/machine/gear-mesh.js";
import { planetsInPhase, survivingCarrierOrders } from "../../src/machine/planet-phasing.js";
import {
  canBeAssembled,
  planetaryMotion,
  planetaryRates,
  ringHeldReduction,
} from "../../src/machine/planetary.js";

describe("planetaryMotion(teeth, sunHz, ringHz)", () => {
  // NREL/TP-5000-54530 (2012): 750 kW gearbox, planetary stage 21/39/99 with 3 planets, carrier at
  // 22.0884 rpm when the high-speed shaft turns at 1800 rpm through 82/23 and 88/22.
  test("gives the published rates of the 750 kW wind gearbox", () => {
    const teeth = { sun: 21, planet: 39, ring: 99, planets: 3 };
    const sunHz = 1800 / 60 / ((82 / 23) * (88 / 22));
    const motion = planetaryMotion(teeth, sunHz);
    const rates = planetaryRates(teeth, motion);
    expect(sunHz * 60).toBeCloseTo(126.22, 2);
    expect(motion.carrier * 60).toBeCloseTo(22.0884, 3);
    expect(ringHeldReduction(teeth) * (82 / 23) * (88 / 22)).toBeCloseTo(81.491, 3);
    expect(rates.mesh).toBeCloseTo(36.446, 2);
    expect(rates.planetPass).toBeCloseTo(1.1044, 3);
    expect(motion.planetOnCarrier).toBeCloseTo(0.9345, 3);
    expect(rates.sunFault).toBeCloseTo(5.2066, 2);
    expect(gearMeshHz(82, sunHz)).toBeCloseTo(172.5, 2);
    expect(gearMeshHz(22, 30)).toBe(660);
  });

  // Nejad et al., Wind Energy 19 (2016), table V: 5 MW gearbox at 12.1 rpm. Stage 1 has shifted teeth:
  // its ring is not sun + 2 planet.
  test("gives the published ratios and mesh rates of the 5 MW wind gearbox", () => {
    const first = { sun: 19, planet: 17, ring: 56, planets: 3 };
    const second = { sun: 18, planet: 36, ring: 93, planets: 3 };
    const carrierHz = 12.1 / 60;
    const sun1 = carrierHz * ringHeldReduction(first);
    const sun2 = sun1 * ringHeldReduction(second);
    expect(ringHeldReduction(first)).toBeCloseTo(3.947, 3);
    expect(ringHeldReduction(second)).toBeCloseTo(6.167, 3);
    expect(ringHeldReduction(first) * ringHeldReduction(second) * (95 / 24)).toBeCloseTo(96.354, 2);
    expect(planetaryRates(first, planetaryMotion(first, sun1)).mesh).toBeCloseTo(11.293, 2);
    expect(planetaryRates(second, planetaryMotion(second, sun2)).mesh).toBeCloseTo(74.033, 2);
    expect(gearMeshHz(95, sun2)).toBeCloseTo(466.354, 2);
    expect(sun1 * 60).toBeCloseTo(47.763, 2);
    expect(sun2 * 60).toBeCloseTo(294.539, 2);
  });

  // University of Ljubljana, LECAD planetary transmission example: prints 6.14286.
  test("reduces 21/108 by 6.14286", () => {
    const teeth = { sun: 21, planet: 43, ring: 108, planets: 3 };
    expect(ringHeldReduction(teeth)).toBeCloseTo(6.14286, 5);
    expect(canBeAssembled(teeth)).toBe(true);
  });

  // By hand: 16/24/64 with 4 planets behind pulleys of 2.5:1 on a 1725 rpm motor.
  test("gives the rates of a mode-shifter's gear case in agitation", () => {
    const teeth = { sun: 16, planet: 24, ring: 64, planets: 4 };
    const motion = planetaryMotion(teeth, 11.5);
    const rates = planetaryRates(teeth, motion);
    expect(motion.carrier).toBeCloseTo(2.3, 9);
    expect(rates.mesh).toBeCloseTo(147.2, 9);
    expect(motion.planetOnCarrier * teeth.planet).toBeCloseTo(147.2, 9);
    expect(rates.planetPass).toBeCloseTo(9.2, 9);
    expect(rates.ringFault).toBeCloseTo(9.2, 9);
    expect(rates.sunFault).toBeCloseTo(36.8, 9);
    // 12.27 Hz is struck on both flanks: 2 x 6.13.
    expect(2 * rates.planetFault).toBeCloseTo(12.27, 2);
  });

  const teethSets = fc
    .record({ sun: fc.integer({ min: 10, max: 60 }), planet: fc.integer({ min: 10, max: 60 }) })
    .map(({ sun, planet }) => ({ sun, planet, ring: sun + 2 * planet, planets: 3 }));
  const hz = fc.double({ min: -50, max: 50, noNaN: true });

  test("satisfies Willis' equation and rolls sun, planet and ring without sliding", () => {
    fc.assert(
      fc.property(teethSets, hz, hz, (teeth, sunHz, ringHz) => {
        const m = planetaryMotion(teeth, sunHz, ringHz);
        const { sun, planet, ring } = teeth;
        expect(sun * m.sun + ring * m.ring).toBeCloseTo((sun + ring) * m.carrier, 6);
        expect(ring * (m.ring - m.carrier)).toBeCloseTo(planet * (m.planet - m.carrier), 6);
        expect(sun * (m.sun - m.carrier)).toBeCloseTo(-planet * (m.planet - m.carrier), 6);
      }),
    );
  });

  test("meshes nowhere when sun and ring turn together, as in the spin", () => {
    const teeth = { sun: 16, planet: 24, ring: 64, planets: 4 };
    const motion = planetaryMotion(teeth, 11.5, 11.5);
    expect(motion.carrier).toBeCloseTo(11.5, 12);
    expect(planetaryRates(teeth, motion).mesh).toBeCloseTo(0, 9);
  });
});

describe("survivingCarrierOrders(ring, planets, reach)", () => {
  // McFadden and Smith (1985): only multiples of the number of planets survive near the mesh.
  test.each([
    [99, 3, [93, 96, 99, 102, 105]],
    [98, 3, [93, 96, 99, 102]],
    [80, 4, [76, 80, 84]],
    [82, 4, [76, 80, 84, 88]],
  ])("keeps the orders published for ring %i with %i planets", (ring, planets, orders) => {
    expect(survivingCarrierOrders(ring, planets, 6)).toEqual(orders);
  });

  test("has the mesh itself among them only when the planets are in phase", () => {
    expect(planetsInPhase(99, 3)).toBe(true);
    expect(planetsInPhase(98, 3)).toBe(false);
    expect(survivingCarrierOrders(98, 3, 6)).not.toContain(98);
  });
});

describe("pairRates(pinion, wheel, meshHz)", () => {
  // Randall (2011), chapter 2: hunting tooth = mesh gcd / (z1 z2).
  test("gives mesh 600 Hz and hunting tooth 0.263158 Hz for 24/95 at 1500 rpm", () => {
    const mesh = gearMeshHz(24, 1500 / 60);
    expect(mesh).toBe(600);
    expect((mesh / 95) * 60).toBeCloseTo(378.9474, 4);
    expect(pairRates(24, 95, mesh).huntingToothHz).toBeCloseTo(0.263158, 6);
    expect(pairRates(24, 95, mesh).assemblyPhases).toBe(1);
  });

  // By hand: gcd 12, lcm 72.
  test("gives 12 phases, pass 20 Hz and hunting tooth 3.333 Hz for 24/36 at mesh 240 Hz", () => {
    const rates = pairRates(24, 36, 240);
    expect(rates.assemblyPhases).toBe(12);
    expect(rates.assemblyPassHz).toBe(20);
    expect(rates.huntingToothHz).toBeCloseTo(3.3333, 4);
  });
});
