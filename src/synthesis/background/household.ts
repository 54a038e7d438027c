import { OTHER_SOUND_KINDS, type OtherSoundKind } from "../other-sounds/kinds.js";
import { otherSound } from "../other-sounds/other-sounds.js";
import { addRing } from "../sound/strike.js";
import type { BackgroundSound, Stage } from "../stage.js";

const AT_HOME: readonly OtherSoundKind[] = OTHER_SOUND_KINDS.filter((kind) =>
  ["babble", "dishes", "music", "clock", "traffic", "fan", "rain"].includes(kind),
);

/** Now and then somebody talks, washes up or plays music while the washer is recorded. */
export function householdSounds(stage: Stage): BackgroundSound[] {
  const { random, sampleCount } = stage;
  const sounds: BackgroundSound[] = [];
  if (random.chance(0.15)) {
    const samples = otherSound(random.pick(AT_HOME), sampleCount, random.fork("kind"));
    sounds.push({ path: "open", levelDb: random.between(-16, -4), samples });
  }
  if (random.chance(0.12)) {
    const samples = new Float64Array(sampleCount);
    // The phone is moved or put down: a few dull knocks close by.
    const count = random.integer(1, 4);
    for (let i = 0; i < count; i++) {
      const ring = {
        hz: random.between(70, 500),
        decaySeconds: random.between(0.005, 0.03),
        gain: 1,
      };
      addRing(samples, random.between(0, sampleCount - 1), random.between(0.5, 1), ring);
    }
    sounds.push({ path: "open", levelDb: random.between(-28, -14), samples });
  }
  return sounds;
}
