import type { Component } from "../../machine/words.js";
import { OWNER_WORDS, type OwnerWords } from "./owner-words.data.js";

/** What a part is to its owner, in plain words; undefined for what is no part. */
export const ownerWords = (component: Component | undefined): OwnerWords | undefined =>
  OWNER_WORDS.find((row) => row.component === component);
