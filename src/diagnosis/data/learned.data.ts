/**
 * What tuning on the first simulator adds to the expert weights, in nats, each within ±1.
 * Key: rule id / present or absent / component. Made by a tool: see docs/validation.md.
 */
export const LEARNED: Readonly<Record<string, number>> = {};
