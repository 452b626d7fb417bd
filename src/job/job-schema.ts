// job: the shape of job.json → a schema that reads and describes it.
import * as z from "zod";

/** A moment: ISO 8601 with an offset or Z. */
export const momentSchema = z.iso.datetime({ offset: true });

/** SHA-256, hex. */
export const sha256Schema = z.string().regex(/^[0-9a-f]{64}$/);

/** How the fault shows, as it was told or seen before any measurement. */
export const symptomSchema = z.object({
  text: z.string().optional(),
  /** It restarts, or switches off, so many seconds after power-on. */
  restartsAfterS: z.number().nonnegative().optional(),
  /** What was connected then, such as "display", "cell", "charger". */
  connected: z.array(z.string()).optional(),
  /** Current that it draws, A. */
  drawsA: z.number().nonnegative().optional(),
});

/** A job: one device on the bench. Written once; all that comes later stands in the journal, whose first line carries
 *  the hash of this file. */
export const jobSchema = z.object({
  kind: z.literal("faultglow/job"),
  version: z.literal(1),
  /** Random, to tell two jobs of like devices apart. */
  id: z.string().regex(/^[0-9a-f]{16}$/),
  createdAt: momentSchema,
  /** Model or name of the device. */
  device: z.string().regex(/\S/),
  /** What the customer said. */
  complaint: z.string().nullable(),
  symptom: symptomSchema.nullable(),
  remark: z.string().nullable(),
  tool: z.object({ name: z.literal("faultglow"), version: z.string() }),
});

export type Symptom = z.infer<typeof symptomSchema>;
/** What job.json says. */
export type JobHeader = z.infer<typeof jobSchema>;
