// board: the shape of a board map and of a view → schemas that read and describe them.
import { z } from "zod";

const pointMm = z.tuple([z.number(), z.number()]);

export const FINISHES = ["solder-mask", "moulded", "ceramic", "bare-die", "bare-metal", "coated"] as const;
export type Finish = (typeof FINISHES)[number];

export const regionSchema = z.object({
  ref: z.string().min(1),
  label: z.string().optional(),
  side: z.enum(["top", "bottom"]),
  kind: z.enum(["ic", "passive", "shield", "connector", "other"]).optional(),
  polygon: z.array(pointMm).min(3),
  finish: z.enum(FINISHES).optional(),
  emissivity: z.number().gt(0).max(1).optional(),
  nets: z.array(z.string()).optional(),
  normallyWarm: z.boolean().optional(),
});

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

export const viewSchema = z.object({
  kind: z.literal("faultglow/view"),
  version: z.literal(1),
  side: z.enum(["top", "bottom"]),
  frame: z.object({ width: z.int().positive(), height: z.int().positive() }),
  fiducials: z.array(z.object({ board: pointMm, pixel: pointMm })).min(2),
});

export type Region = z.infer<typeof regionSchema>;
export type BoardMap = z.infer<typeof boardMapSchema>;
export type View = z.infer<typeof viewSchema>;
