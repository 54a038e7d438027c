/** Sounds that people record and that are no washer. */
export const OTHER_SOUND_KINDS = [
  "rain",
  "babble",
  "fan",
  "drill",
  "traffic",
  "clock",
  "music",
  "dishes",
  "hair-dryer",
  "lawn-mower",
  "wind",
  "crowd",
] as const;
export type OtherSoundKind = (typeof OTHER_SOUND_KINDS)[number];
