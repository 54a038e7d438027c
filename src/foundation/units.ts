/** Frequency in hertz. */
export type Hertz = number;
/** Time in seconds. */
export type Seconds = number;
/** Rotation in turns per minute. */
export type Rpm = number;
/** Level difference in decibels. */
export type Decibels = number;

/** Turns per minute to turns per second: f = n / 60. */
export const rpmToHz = (rpm: Rpm): Hertz => rpm / 60;

/** Turns per second to turns per minute: n = 60 f. */
export const hzToRpm = (hz: Hertz): Rpm => hz * 60;

/** Power ratio to decibels: 10 lg r. */
export const powerRatioToDb = (ratio: number): Decibels => 10 * Math.log10(ratio);

/** Decibels to power ratio: 10^(L/10). */
export const dbToPowerRatio = (decibels: Decibels): number => 10 ** (decibels / 10);

/** Amplitude ratio to decibels: 20 lg r. */
export const amplitudeRatioToDb = (ratio: number): Decibels => 20 * Math.log10(ratio);

/** Decibels to amplitude ratio: 10^(L/20). */
export const dbToAmplitudeRatio = (decibels: Decibels): number => 10 ** (decibels / 20);
