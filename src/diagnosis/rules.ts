import { EVENT_RULES } from "./data/event-rules.data.js";
import { LINE_RULES } from "./data/line-rules.data.js";
import { SOUND_RULES } from "./data/sound-rules.data.js";
import { TURN_RULES } from "./data/turn-rules.data.js";
import type { Rule } from "./rule.js";

/** The whole rule table, in the order in which reasons are told when equally strong. */
export const RULES: readonly Rule[] = [
  ...LINE_RULES,
  ...TURN_RULES,
  ...SOUND_RULES,
  ...EVENT_RULES,
];
