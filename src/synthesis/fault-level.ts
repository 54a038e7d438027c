import { RATE_HZ } from "./sound/rate.js";

// Filters keep their states off zero with a bias of 1e-30: energies down there are no sound.
const SILENCE = 1e-20;

const FRAME = Math.round(0.1 * RATE_HZ);

function frameEnergies(samples: Float64Array): Float64Array {
  const energies = new Float64Array(Math.max(1, Math.ceil(samples.length / FRAME)));
  for (let i = 0; i < samples.length; i++) energies[Math.floor(i / FRAME)]! += samples[i]! ** 2;
  return energies;
}

/**
 * Level of a fault over its background while it sounds, dB: broadband energy of both over the frames of
 * 0.1 s in which the fault lies within 20 dB of its loudest tenth. -Infinity when the fault is silent.
 */
export function faultToBackground(fault: Float64Array, background: Float64Array): number {
  const faultEnergy = frameEnergies(fault);
  const backgroundEnergy = frameEnergies(background);
  const sorted = faultEnergy.slice().sort();
  const threshold = 0.01 * sorted[Math.floor(0.95 * (sorted.length - 1))]!;
  const loud = threshold > 0 ? threshold : 0.01 * sorted[sorted.length - 1]!;
  let above = 0;
  let below = 0;
  faultEnergy.forEach((energy, i) => {
    if (energy < loud) return;
    above += energy;
    below += backgroundEnergy[i]!;
  });
  return above < SILENCE ? -Infinity : 10 * Math.log10(above / Math.max(1e-30, below));
}
