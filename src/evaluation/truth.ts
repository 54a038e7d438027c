import { z } from "zod";

const positive = z.number().positive();

/**
 * What is known about a labelled recording. It lies beside the sound as `<name>.truth.json`.
 * Words (machine, phase, component, character) are those of the answer itself.
 */
export const truthSchema = z.strictObject({
  schema: z.literal("washer-noise/truth@1"),
  /** Sound file this belongs to, a name in the same folder. */
  file: z.string().min(1),
  /** False for sounds that are no washer. */
  washer: z.boolean(),
  machine: z.string().optional(),
  phase: z.string().optional(),
  /** Faulty parts, most important first; empty for a normal machine or no washer. */
  faults: z.array(z.string()),
  /** Character of the most important noise. */
  character: z.string().optional(),
  ageYears: z.number().nonnegative().optional(),
  /** Drum speed at evenly spaced moments; null while it stands or nothing is defined. */
  drumRpm: z
    .strictObject({
      /** Speed during the longest steady part, or the mean while turning. */
      typical: positive.nullable(),
      track: z
        .array(
          z.strictObject({ timeSeconds: z.number(), rpm: z.number().nonnegative().nullable() }),
        )
        .optional(),
    })
    .optional(),
  motorToDrum: positive.optional(),
  lineHz: z.union([z.literal(50), z.literal(60)]).optional(),
  /** Fault sound over everything else, dB, broadband RMS while the fault sounds. */
  faultToBackgroundDb: z.number().optional(),
  /** How the clip was made: simulator, phone, room and codec in short words. */
  simulator: z.string().optional(),
  phone: z.string().optional(),
  codec: z.string().optional(),
  seed: z.number().int().optional(),
  note: z.string().optional(),
});

export type Truth = z.infer<typeof truthSchema>;
