// board: the shape of a board map and of a view → schemas that read and describe them.
import * as z from "zod";

const pointMm = z.tuple([z.number(), z.number()]);
const pixel = z.tuple([z.number(), z.number()]);

/** Surfaces as a thermal camera tells them apart. */
export const FINISHES = ["solder-mask", "moulded", "ceramic", "bare-die", "bare-metal", "coated"] as const;
/** The surface of a region; sets its emissivity. */
export type Finish = (typeof FINISHES)[number];

/** One region of a board map. */
export const regionSchema = z.object({
  /** Unique over both sides. */
  ref: z.string().regex(/\S/),
  label: z.string().optional(),
  side: z.enum(["top", "bottom"]),
  kind: z.enum(["ic", "passive", "shield", "connector", "other"]).optional(),
  polygon: z.array(pointMm).min(3),
  finish: z.enum(FINISHES).optional(),
  /** In place of `finish`; it goes first where both are given. */
  emissivity: z.number().gt(0).max(1).optional(),
  nets: z.array(z.string()).optional(),
  /** This part heats on a healthy board too. */
  normallyWarm: z.boolean().optional(),
});

/** A board map, `kind: faultglow/board`. */
export const boardMapSchema = z.object({
  kind: z.literal("faultglow/board"),
  version: z.literal(1),
  name: z.string().optional(),
  thicknessMm: z.number().positive().optional(),
  outline: z.array(pointMm).min(3),
  regions: z.array(regionSchema),
  plate: z
    .object({
      conductanceWPerK: z.number().positive().optional(),
      lossWPerM2K: z.number().positive().optional(),
      heatCapacityJPerM2K: z.number().positive().optional(),
    })
    .optional(),
});

/** A view, `kind: faultglow/view`. */
export const viewSchema = z.object({
  kind: z.literal("faultglow/view"),
  version: z.literal(1),
  side: z.enum(["top", "bottom"]),
  frame: z.object({ width: z.int().positive(), height: z.int().positive() }),
  fiducials: z.array(z.object({ board: pointMm, pixel })).min(2),
});

/** A named part of the board. */
export type Region = z.infer<typeof regionSchema>;
/** The outline of a board and its named parts, mm. */
export type BoardMap = z.infer<typeof boardMapSchema>;
/** Points of the board and the pixels of the baseline frame where they are seen. */
export type View = z.infer<typeof viewSchema>;
