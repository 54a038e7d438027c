import type { Dice } from "./dice.js";
import {
  add,
  band,
  drawModes,
  knock,
  levelled,
  pinkNoise,
  section,
  times,
  turnSine,
  wander,
  whiteNoise,
  type Signal,
} from "./sound.js";

interface Sheet {
  rate: number;
  length: number;
}

const seconds = ({ rate, length }: Sheet): number => length / rate;
const noise = ({ length }: Sheet, dice: Dice): Signal => whiteNoise(length, dice);

/** A run of notes or syllables: a buzzy source, each with pitch, length and formants. */
function voiced(
  sheet: Sheet,
  from: number,
  lasts: number,
  hz: number,
  formants: readonly number[],
  dice: Dice,
): Signal {
  const count = Math.round(lasts * sheet.rate);
  const out = new Float32Array(count);
  const bend = dice.between(-0.15, 0.15);
  let turns = 0;
  for (let k = 0; k < count; k++) {
    const x = k / count;
    turns += (hz * (1 + bend * x)) / sheet.rate;
    out[k] = (turns - Math.floor(turns) < 0.1 ? 1 : -0.11) * Math.sin(Math.PI * x) ** 0.6;
  }
  const voice = new Float32Array(count);
  for (const formant of formants) add(voice, section(out.slice(), sheet.rate, "band", formant, 6));
  return from >= 0 ? voice : voice.subarray(0, 0);
}

function place(onto: Signal, what: Signal, at: number, gain = 1): void {
  for (let k = 0; k < what.length && at + k < onto.length; k++)
    onto[at + k] = onto[at + k]! + gain * what[k]!;
}

function speech(sheet: Sheet, dice: Dice): Signal {
  const out = new Float32Array(sheet.length);
  const pitch = dice.spread(90, 250);
  for (let t = dice.between(0, 0.5); t < seconds(sheet) - 0.5;) {
    const lasts = dice.between(0.08, 0.28);
    const formants = [dice.spread(280, 800), dice.spread(900, 2300), dice.spread(2400, 3200)];
    place(
      out,
      levelled(voiced(sheet, t, lasts, pitch * dice.between(0.85, 1.2), formants, dice)),
      Math.round(t * sheet.rate),
      Math.exp(0.3 * dice.bell()),
    );
    t += lasts;
    if (dice.chance(0.4)) {
      const hiss = band(
        whiteNoise(Math.round(dice.between(0.04, 0.12) * sheet.rate), dice),
        sheet.rate,
        2500,
        7000,
      );
      place(out, levelled(hiss), Math.round(t * sheet.rate), 0.4);
    }
    t += dice.chance(0.15) ? dice.between(0.3, 0.9) : dice.between(0.02, 0.08);
  }
  return out;
}

function music(sheet: Sheet, dice: Dice): Signal {
  const out = new Float32Array(sheet.length);
  const beat = 60 / dice.between(70, 150);
  const root = dice.spread(110, 330);
  const scale = [0, 2, 4, 5, 7, 9, 11, 12, 14, 16];
  for (let t = 0; t < seconds(sheet); t += beat * dice.pick([0.5, 0.5, 1, 1, 2])) {
    for (let voice = 0; voice < dice.whole(1, 3); voice++) {
      const hz = root * 2 ** (dice.pick(scale) / 12);
      const partials = [1, 2, 3, 4, 5].map((k) => ({
        hz: hz * k,
        decaySeconds: dice.between(0.2, 0.9) / k,
        share: 1 / k,
      }));
      knock(out, sheet.rate, t * sheet.rate, dice.between(0.4, 1), partials, 0.005);
    }
    if (dice.chance(0.5))
      knock(out, sheet.rate, t * sheet.rate, 0.8, drawModes(dice, [60, 180], 2, [0.05, 0.15]));
  }
  return out;
}

function traffic(sheet: Sheet, dice: Dice): Signal {
  const out = levelled(band(pinkNoise(sheet.length, dice), sheet.rate, 60, 1500));
  for (let t = dice.between(0, 4); t < seconds(sheet); t += dice.between(2, 7)) {
    const width = dice.between(0.8, 2.5);
    const car = band(noise(sheet, dice), sheet.rate, 150, dice.spread(1200, 4000));
    add(
      out,
      times(
        levelled(car),
        Float32Array.from({ length: sheet.length }, (_, k) =>
          Math.exp(-0.5 * ((k / sheet.rate - t) / width) ** 2),
        ),
      ),
      dice.between(0.5, 3),
    );
  }
  return out;
}

/** Tones with turn and blades of a steady rotor, in a broad rush. */
function rotor(
  sheet: Sheet,
  turnHz: number,
  blades: number,
  rush: readonly [number, number],
  dice: Dice,
): Signal {
  const out = levelled(band(noise(sheet, dice), sheet.rate, rush[0], rush[1]));
  const drift = wander(sheet.length, sheet.rate, 0.4, dice);
  const tones = new Float32Array(sheet.length);
  for (const [order, size] of [
    [1, 0.4],
    [blades, 1],
    [2 * blades, 0.5],
    [3 * blades, 0.3],
  ] as const) {
    let turns = dice.next();
    for (let k = 0; k < sheet.length; k++) {
      turns += (turnHz * order * (1 + 0.002 * drift[k]!)) / sheet.rate;
      tones[k] = tones[k]! + size * turnSine(turns);
    }
  }
  return add(out, levelled(tones), dice.between(0.15, 0.8));
}

function events(
  sheet: Sheet,
  dice: Dice,
  gap: readonly [number, number],
  hit: (out: Signal, at: number) => void,
): Signal {
  const out = new Float32Array(sheet.length);
  for (let t = dice.between(0, gap[1]); t < seconds(sheet); t += dice.between(gap[0], gap[1]))
    hit(out, Math.round(t * sheet.rate));
  return out;
}

const dishes = (sheet: Sheet, dice: Dice): Signal =>
  events(sheet, dice, [0.1, 1.6], (out, at) => {
    knock(
      out,
      sheet.rate,
      at,
      Math.exp(0.6 * dice.bell()),
      drawModes(dice, [1500, 8000], 5, [0.02, 0.25]),
    );
  });

const clapping = (sheet: Sheet, dice: Dice): Signal => {
  const people = dice.whole(1, 8);
  const out = new Float32Array(sheet.length);
  for (let person = 0; person < people; person++) {
    const gap = 1 / dice.between(2, 5);
    const modes = drawModes(dice, [700, 3000], 3, [0.002, 0.008]);
    add(
      out,
      events(sheet, dice, [gap * 0.85, gap * 1.15], (onto, at) => {
        knock(onto, sheet.rate, at, Math.exp(0.3 * dice.bell()), modes);
      }),
    );
  }
  return out;
};

const rainfall = (sheet: Sheet, dice: Dice): Signal => {
  const drops = events(sheet, dice, [0.002, 0.04], (out, at) => {
    knock(
      out,
      sheet.rate,
      at,
      Math.exp(dice.bell()),
      drawModes(dice, [1500, 9000], 1, [0.0008, 0.005]),
    );
  });
  return add(
    levelled(band(noise(sheet, dice), sheet.rate, dice.spread(400, 1500), 12_000)),
    levelled(drops),
    dice.between(0.3, 1.2),
  );
};

const dog = (sheet: Sheet, dice: Dice): Signal =>
  events(sheet, dice, [0.3, 2.5], (out, at) => {
    const bark = voiced(
      sheet,
      0,
      dice.between(0.12, 0.3),
      dice.spread(250, 700),
      [dice.spread(500, 1100), dice.spread(1200, 2500)],
      dice,
    );
    const rasp = band(whiteNoise(bark.length, dice), sheet.rate, 500, 3500);
    place(
      out,
      add(levelled(bark), levelled(times(rasp, bark.map(Math.abs))), 0.5),
      at,
      Math.exp(0.2 * dice.bell()),
    );
  });

/** Sounds that are no washer, by name. */
export const OTHER_SOUNDS: Record<string, (sheet: Sheet, dice: Dice) => Signal> = {
  speech,
  music,
  traffic,
  fan: (sheet, dice) =>
    rotor(sheet, dice.between(12, 28), dice.pick([3, 4, 5, 7]), [80, dice.spread(800, 3500)], dice),
  "vacuum cleaner": (sheet, dice) =>
    rotor(
      sheet,
      dice.between(350, 620),
      dice.pick([7, 9, 11]),
      [300, dice.spread(4000, 9000)],
      dice,
    ),
  dishes,
  clapping,
  rain: rainfall,
  dog,
  silence: (sheet, dice) => pinkNoise(sheet.length, dice).map((v) => v * 1e-3),
};
