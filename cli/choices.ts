// Spelled out here so that --help need not load the library.

export const PHASES = ["fill", "wash", "drain", "spin", "coast", "hand-spin", "unknown"] as const;

export const AUDIENCES = ["customer", "technician", "licensed"] as const;

/** What a meter reading is compared with. */
export const KINDS = [
  "resistance",
  "closed",
  "open",
  "windings",
  "capacitor",
  "sensor",
  "earth",
] as const;
