// Far more complaints than a decoder has reason for in one piece of sound: it goes in circles.
const MOST_COMPLAINTS = 2000;

/**
 * Runs a decoder that complains on the console about each damaged frame, without the complaints: damage
 * is told through errors and problems. One that never stops complaining is ended with an error.
 */
export function quietly<T>(work: () => T): T {
  const host = globalThis.console;
  const { error } = host;
  let complaints = 0;
  host.error = () => {
    if (++complaints > MOST_COMPLAINTS) throw new Error("the decoder goes in circles");
  };
  try {
    return work();
  } finally {
    host.error = error;
  }
}
