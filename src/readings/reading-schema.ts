// readings: the shape of one reading of a meter, as it stands in the journal of a job → schemas that read and describe
// it.
import * as z from "zod";

/** What a meter was set to. */
export const MEASURES = ["diode", "resistance", "voltage", "current"] as const;
/** What a meter was set to; the unit of the value follows from it: V, Ω, V, A. */
export type Measure = (typeof MEASURES)[number];

/** One reading of a meter. It has a net, or a ref with or without a pin, or all of them. */
export const readingSchema = z
  .object({
    /** Name of the board of the job, where it has several; absent: its only board, or not known. */
    board: z.string().optional(),
    net: z.string().optional(),
    ref: z.string().optional(),
    pin: z.string().optional(),
    measure: z.enum(MEASURES),
    /** V for diode and voltage, Ω for resistance, A for current; null where the meter showed over-range. */
    value: z.number().nullable(),
    /** The meter showed over-range ("OL", "1."): more than it can show. */
    overRange: z.boolean(),
    /** The reading as it was typed. */
    raw: z.string(),
    remark: z.string().optional(),
  })
  .refine((reading) => (reading.value === null) === reading.overRange, {
    error: "a value, or overRange: true with value: null",
    path: ["value"],
  })
  .refine((reading) => reading.net !== undefined || reading.ref !== undefined, {
    error: "a net or a ref",
    path: ["net"],
  });

/** What a good board shows at the same place. */
export const referenceSchema = z.intersection(
  readingSchema,
  z.object({
    /** Where it is from: "good board of the same model", a sheet. */
    source: z.string().optional(),
    /** This rail reads low on a good board, so that low is no fault of it. */
    lowByNature: z.boolean().optional(),
    /** Upper end of a range; `value` is its lower end. */
    upTo: z.number().optional(),
    /** How far a reading may lie off and still be as expected, in the unit of the value. */
    tolerance: z.number().nonnegative().optional(),
    /** The same as a share of the value; the larger of the two counts. */
    toleranceShare: z.number().nonnegative().max(1).optional(),
  }),
);

/** A reading, as `readingSchema` has it. */
export type Reading = z.infer<typeof readingSchema>;
/** A reference, as `referenceSchema` has it. */
export type Reference = z.infer<typeof referenceSchema>;
