import { WasherNoiseError } from "../foundation/errors.js";
import { didYouMean } from "../foundation/similar-word.js";
import { FAMILIES } from "./families.data.js";
import { FRONT_LOADERS } from "./front-load.data.js";
import type { MachineProfile, Washer } from "./profile.js";
import { TOP_LOADERS } from "./top-load.data.js";
import { MACHINE_IDS, type Component, type MachineId } from "./words.js";

/** All built-in profiles, top loaders first. */
export const PROFILES: readonly MachineProfile[] = [...TOP_LOADERS, ...FRONT_LOADERS];

const profileById = new Map(PROFILES.map((profile) => [profile.id, profile]));

const toWasher = (profile: MachineProfile): Washer => ({
  id: profile.id,
  label: profile.label,
  profiles: [profile],
});

/**
 * The built-in washer or family of that name.
 *
 * A family ("top-load", "front-load", "unknown") holds the profiles of all its members. Throws
 * `machine-unknown`, listing the names that exist.
 */
export function washerById(id: MachineId | string): Washer {
  const profile = profileById.get(id);
  if (profile !== undefined) return toWasher(profile);
  const family = FAMILIES.find((row) => row.id === id);
  if (family !== undefined) {
    const { label, members } = family;
    return { id: family.id, label, profiles: members.map((name) => profileById.get(name)!) };
  }
  throw new WasherNoiseError(
    "machine-unknown",
    `--machine must be one of ${MACHINE_IDS.join(", ")}, or a machine file ending in .json; received ${JSON.stringify(id)}.${didYouMean(id, MACHINE_IDS)}`,
    { received: id, allowed: MACHINE_IDS },
  );
}

/** Every part that at least one of the washer's profiles has, in the order they are first met. */
export const componentsOf = (washer: Washer): Component[] => [
  ...new Set(washer.profiles.flatMap((profile) => profile.components)),
];
