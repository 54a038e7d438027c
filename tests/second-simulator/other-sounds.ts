import type { Dice } from "./dice.js";
import { addTo, biquad, filterInPlace, softenInPlace, wander } from "./filters.js";
import { addBlow, addBouncing } from "./loose-mass.js";
import { bubbleSound } from "./water.js";

const TWO_PI = 2 * Math.PI;

interface Take {
  length: number;
  rate: number;
  dice: Dice;
}

function rain({ length, rate, dice }: Take): Float32Array {
  const drops = new Float32Array(length);
  const mean = rate / dice.ratio(150, 1500);
  for (let at = 0; at < length; at -= mean * Math.log(1 - dice.unit()))
    addBlow(drops, at, dice.ratio(0.05, 1), dice.ratio(0.0002, 0.0012) * rate);
  const plips = bubbleSound(
    { sampleRateHz: rate, length, perSecond: dice.range(5, 60), radiusM: [0.0004, 0.002] },
    new Float32Array(length).fill(0.5),
    dice,
  );
  addTo(drops, plips, dice.range(0.5, 3));
  return drops;
}

/** Air puffs of the glottis through three formants that move from sound to sound. */
function speech({ length, rate, dice }: Take): Float32Array {
  const puffs = new Float32Array(length);
  const base = dice.range(85, 220);
  const vowels: { at: number; end: number; formants: readonly number[] }[] = [];
  for (let at = 0; at < length;) {
    const end = at + dice.range(0.08, 0.3) * rate;
    vowels.push({
      at,
      end,
      formants: [dice.range(280, 850), dice.range(900, 2300), dice.range(2300, 3200)],
    });
    at = end + (dice.chance(0.2) ? dice.range(0.2, 0.7) : dice.range(0, 0.07)) * rate;
  }
  let phase = 0;
  for (const v of vowels) {
    const pitch = base * dice.ratio(0.8, 1.3);
    const voiced = dice.chance(0.8);
    for (let i = Math.floor(v.at); i < Math.min(length, v.end); i++) {
      const x = (i - v.at) / (v.end - v.at);
      phase += (pitch * (1.1 - 0.2 * x)) / rate;
      const cycle = phase - Math.floor(phase);
      const open = cycle < 0.55 ? Math.sin((Math.PI * cycle) / 0.55) : 0;
      puffs[i] =
        Math.sin(Math.PI * x) *
        (voiced ? open * open + 0.04 * (dice.unit() - 0.5) : 0.5 * (dice.unit() - 0.5));
    }
  }
  return throughFormants(puffs, vowels, rate);
}

function throughFormants(
  puffs: Float32Array,
  vowels: { at: number; end: number; formants: readonly number[] }[],
  rate: number,
): Float32Array {
  const out = new Float32Array(puffs.length);
  for (const v of vowels) {
    const from = Math.floor(v.at);
    const to = Math.min(puffs.length, Math.floor(v.end + 0.03 * rate));
    v.formants.forEach((hz, k) => {
      const part = filterInPlace(puffs.slice(from, to), biquad("band", hz, hz / 90, rate));
      for (let i = from; i < to; i++) out[i]! += part[i - from]! * (1 - 0.25 * k);
    });
  }
  return out;
}

function fan({ length, rate, dice }: Take): Float32Array {
  const out = dice.noise(length);
  const turns = dice.range(12, 28);
  const blades = dice.whole(3, 7);
  const uneven = dice.range(0, 0.15);
  for (let i = 0; i < length; i++) {
    const a = (TWO_PI * turns * i) / rate;
    out[i] =
      out[i]! * (1 + uneven * Math.cos(a)) +
      0.5 * Math.sin(blades * a) +
      0.2 * Math.sin(2 * blades * a);
  }
  return softenInPlace(out, dice.ratio(600, 2500), rate);
}

function drill({ length, rate, dice }: Take): Float32Array {
  const out = new Float32Array(length);
  const idle = dice.range(250, 400);
  const teeth = dice.whole(5, 9);
  let speed = 0;
  let phase = 0;
  let press = 0;
  let next = 0;
  for (let i = 0; i < length; i++) {
    if (i >= next) {
      press = dice.chance(0.6) ? dice.range(0.2, 0.6) : 0;
      next = i + dice.range(0.6, 2.5) * rate;
    }
    speed += (idle * (1 - press) - speed) * (4 / rate);
    phase += speed / rate;
    out[i] =
      (speed / idle) *
      (0.6 * Math.sin(TWO_PI * phase) +
        0.5 * Math.sin(TWO_PI * teeth * phase) +
        0.3 * Math.sin(2 * TWO_PI * teeth * phase) +
        press * 2 * (dice.unit() - 0.5));
  }
  return out;
}

function clock({ length, rate, dice }: Take): Float32Array {
  const out = new Float32Array(length);
  const beat = dice.pick([1, 0.5, 0.4]);
  for (let k = 0; k * beat * rate < length; k++)
    addBouncing(out, {
      atSample: k * beat * rate,
      strength: k % 2 ? 0.8 : 1,
      contactSamples: 0.0003 * rate,
      flightSamples: 0.004 * rate,
      restitution: 0.4,
    });
  return tuned(
    out,
    rate,
    [dice.range(1800, 3500), dice.range(3500, 6000), dice.range(400, 900)],
    14,
  );
}

function tuned(x: Float32Array, rate: number, hz: readonly number[], q: number): Float32Array {
  const out = new Float32Array(x.length);
  for (const f of hz) addTo(out, filterInPlace(new Float32Array(x), biquad("band", f, q, rate)));
  return out;
}

function traffic({ length, rate, dice }: Take): Float32Array {
  const out = softenInPlace(dice.noise(length), 300, rate);
  for (let c = 0; c < dice.whole(2, 5); c++) {
    const at = dice.unit() * length;
    const width = dice.range(1, 3) * rate;
    const tyre = softenInPlace(dice.noise(length), dice.range(700, 1800), rate);
    const firing = dice.range(40, 110);
    for (let i = 0; i < length; i++) {
      const near = 1 / (1 + Math.pow((i - at) / width, 2));
      out[i]! +=
        3 *
        near *
        (tyre[i]! + 0.2 * Math.sin((TWO_PI * firing * (1 - (0.05 * (i - at)) / width) * i) / rate));
    }
  }
  return out;
}

/** Struck strings: delay line with loss, stretched a little. */
function strings({ length, rate, dice }: Take): Float32Array {
  const out = new Float32Array(length);
  for (let at = 0; at < length; at += dice.pick([0.25, 0.25, 0.5, 0.75]) * rate) {
    const hz = 110 * Math.pow(2, dice.pick([0, 3, 5, 7, 10, 12, 15, 19, 24]) / 12);
    const line = dice.noise(Math.round(rate / hz));
    softenInPlace(line, 3000, rate);
    const end = Math.min(length, at + 2.5 * rate);
    let h = 0;
    for (let i = Math.floor(at); i < end; i++) {
      const n = h + 1 === line.length ? 0 : h + 1;
      const y = line[h]!;
      line[h] = 0.4985 * (y + line[n]!);
      out[i]! += y;
      h = n;
    }
  }
  return out;
}

function dog({ length, rate, dice }: Take): Float32Array {
  const out = new Float32Array(length);
  const base = dice.range(300, 700);
  for (
    let at = dice.range(0, 1) * rate;
    at < length;
    at += dice.pick([0.35, 0.45, 1.5, 2.5]) * rate
  ) {
    const last = dice.range(0.1, 0.22) * rate;
    let phase = 0;
    for (let i = Math.floor(at); i < Math.min(length, at + last); i++) {
      const x = (i - at) / last;
      phase += (base * (1 + 0.5 * Math.sin(Math.PI * x))) / rate;
      out[i]! += Math.sin(Math.PI * x) * ((phase % 1 < 0.3 ? 1 : -0.3) + 0.8 * (dice.unit() - 0.5));
    }
  }
  return tuned(out, rate, [700, 1300, 2400], 3);
}

function crowd(take: Take): Float32Array {
  const out = new Float32Array(take.length);
  for (let k = 0; k < 7; k++)
    addTo(out, speech({ ...take, dice: take.dice.part(String(k)) }), take.dice.range(0.3, 1));
  return out;
}

/** Four-stroke engine: uneven firing, exhaust pipe, speed that hunts. */
function engine({ length, rate, dice }: Take): Float32Array {
  const out = new Float32Array(length);
  const strength = Array.from({ length: 4 }, () => dice.range(0.7, 1.3));
  const idle = dice.range(12, 45);
  const hunt = wander(dice, length, 0.4, 0.12, rate);
  let phase = 0;
  for (let i = 0; i < length; i++) {
    phase += (2 * idle * hunt[i]!) / rate;
    const x = phase - Math.floor(phase);
    out[i] =
      strength[Math.floor(phase) % 4]! * Math.exp(-9 * x) * (1 + 0.4 * (dice.unit() - 0.5)) +
      0.1 * (dice.unit() - 0.5);
  }
  addTo(
    out,
    tuned(out, rate, [dice.range(80, 180), dice.range(250, 500), dice.range(700, 1500)], 4),
    2,
  );
  return out;
}

function kettle({ length, rate, dice }: Take): Float32Array {
  const heat = new Float32Array(length).map((_, i) => Math.min(1, 0.15 + i / length));
  const out = bubbleSound(
    { sampleRateHz: rate, length, perSecond: 900, radiusM: [0.0008, 0.006] },
    heat,
    dice,
  );
  const hiss = dice.noise(length);
  for (let i = 0; i < length; i++) out[i]! += 0.12 * hiss[i]! * heat[i]!;
  return softenInPlace(out, 3000, rate);
}

function silence({ length, rate, dice }: Take): Float32Array {
  const out = softenInPlace(dice.noise(length), 400, rate);
  const hum = dice.pick([50, 60]);
  for (let i = 0; i < length; i++) out[i]! += 0.1 * Math.sin((2 * TWO_PI * hum * i) / rate);
  return out;
}

const SOUNDS: Record<string, (t: Take) => Float32Array> = {
  rain,
  speech,
  fan,
  drill,
  clock,
  traffic,
  strings,
  dog,
  crowd,
  engine,
  kettle,
  silence,
};

export const OTHER_SOUNDS = Object.keys(SOUNDS);

/** A sound that is no washer. */
export function otherSound(name: string, take: Take): Float32Array {
  const make = SOUNDS[name];
  if (!make)
    throw new RangeError(`unknown sound "${name}", one of ${OTHER_SOUNDS.join(", ")} expected`);
  return make(take);
}
