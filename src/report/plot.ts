// report: the shapes that a plot is made of, the same for the page and for paper.

/** `[x, y]` in points of the plot, x right, y down from its top left corner. */
export type PlotPoint = readonly [number, number];

/** An outline of one or more rings or lines; filled by the even-odd rule. */
export interface PlotPath {
  readonly kind: "path";
  readonly rings: readonly (readonly PlotPoint[])[];
  readonly closed: boolean;
  /** `#rrggbb`; absent: not filled. */
  readonly fill?: string;
  readonly stroke?: string;
  /** Width of the stroke, pt. */
  readonly width?: number;
  /** Lengths of dashes and gaps, pt. */
  readonly dash?: readonly number[];
}

/** One line of text; it does not wrap. */
export interface PlotText {
  readonly kind: "text";
  /** Where the baseline of the text begins, is halved or ends. */
  readonly at: PlotPoint;
  readonly text: string;
  /** Height of the type, pt. */
  readonly size: number;
  readonly anchor: "start" | "middle" | "end";
  readonly bold?: boolean;
  readonly colour: string;
  /** A light edge around the letters, so that they read on any ground. */
  readonly halo?: boolean;
}

/** Shapes of which only what lies inside the ring is seen. */
interface PlotClip {
  readonly kind: "clip";
  readonly ring: readonly PlotPoint[];
  readonly items: readonly PlotItem[];
}

/** A shape of a plot; later ones are drawn over earlier ones. */
export type PlotItem = PlotPath | PlotText | PlotClip;

/** A picture of lines, areas and words. */
export interface Plot {
  /** Size, pt. */
  readonly width: number;
  readonly height: number;
  /** What it shows, for those who don't see it. */
  readonly description: string;
  readonly items: readonly PlotItem[];
}

/** Colours of plots, on white in any case: quiet ones for structure, since colour belongs to the rise. */
export const PLOT_COLOURS = Object.freeze({
  ground: "#ffffff",
  ink: "#1b2530",
  quiet: "#4f5b66",
  line: "#9aa5af",
  faint: "#dfe4e8",
  board: "#f2f4f6",
  mark: "#8a1c3c",
});

/** A straight line between points. */
export function plotLine(
  points: readonly PlotPoint[],
  stroke: string,
  width: number,
  dash?: readonly number[],
): PlotPath {
  return { kind: "path", rings: [points], closed: false, stroke, width, ...(dash ? { dash } : {}) };
}

/** A rectangle. */
export function plotBox(
  x: number,
  y: number,
  width: number,
  height: number,
  style: Pick<PlotPath, "fill" | "stroke" | "width" | "dash">,
): PlotPath {
  const ring: PlotPoint[] = [
    [x, y],
    [x + width, y],
    [x + width, y + height],
    [x, y + height],
  ];
  return { kind: "path", rings: [ring], closed: true, ...style };
}
