// findings: – → the marks that a hotspot may bear. Beside the schema, so that who words them need not make that.

/** Marks on a hotspot; where a mark is set the numbers deserve a second look. */
export const HOTSPOT_FLAGS = Object.freeze({
  frameEdge: "the spot is cut by the frame's edge",
  outlineEdge: "the spot lies on the board's outline",
  saturated: "the camera's scale ends inside the spot: its peak is a lower bound",
  noReading: "pixels without a reading lie inside the spot or beside it",
  possibleReflection: "heat and a reflection can't be told apart here",
  besideHeat: "it may as well be made by the heat beside it",
  namedByPower: "nothing stands by itself here; it is named since the board had power",
  exceedsFeed:
    "its watts do not stand: the frames show more heat than was fed in, and one of the two is wrong",
  weakAlignment: "the frames could not be aligned with confidence",
} as const);
export type HotspotFlag = keyof typeof HOTSPOT_FLAGS;
