/** Distance between points of the track. */
export const FRAME_SECONDS = 0.5;

/** Evenly spaced moments that cover a clip; each stands for `FRAME_SECONDS` around it. */
export interface FrameTimes {
  /** Seconds. */
  readonly centres: readonly number[];
  /** 1 where the sound may be used. */
  readonly usable: Uint8Array;
}

/** Frames of a clip; those of which less than half is usable are marked. */
export function frameTimes(
  seconds: number,
  usable?: readonly { startSeconds: number; endSeconds: number }[],
): FrameTimes {
  const count = Math.max(1, Math.floor(seconds / FRAME_SECONDS));
  const centres = Array.from({ length: count }, (_, i) => (i + 0.5) * FRAME_SECONDS);
  const mask = Uint8Array.from(centres, (centre) =>
    !usable || usable.some((u) => centre >= u.startSeconds && centre <= u.endSeconds) ? 1 : 0,
  );
  return { centres, usable: mask };
}
