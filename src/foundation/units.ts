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
