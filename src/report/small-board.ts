// report: a board, what an attempt showed on it and a scale → a small picture of the board in millimetres.
import type { BoardMap, Region } from "../board/board-schema.js";
import { boundsOf } from "../board/polygon.js";
import { boardNames } from "./board-names.js";
import type { BoardRise } from "./board-rise.js";
import { contourRings } from "./contour-rings.js";
import { estimateWidth } from "./fit-text.js";
import { PLOT_COLOURS, type Plot, type PlotItem, type PlotPoint } from "./plot.js";
import type { RiseScale } from "./rise-bands.js";

/** What is drawn on one small board. */
export interface SmallBoard {
  readonly board: BoardMap;
  readonly side: "top" | "bottom";
  /** Null: drawn without colour. */
  readonly rise: BoardRise | null;
  /** Suspected parts, the first one first; each gets a thick outline and its name, one on the other side a thin
   *  outline. */
  readonly suspects: readonly string[];
  /** Parts that were changed before this attempt: a dotted outline and their name. */
  readonly changed: readonly string[];
  /** Parts that heat here and are always warm: their name in plain type. */
  readonly warm: readonly string[];
  /** Places of sources with their rank, mm. */
  readonly sources: readonly { readonly rank: number; readonly atMm: readonly [number, number] }[];
  /** What was seen and judged to be no heat: a dashed ring, mm. */
  readonly noHeat: readonly { readonly atMm: readonly [number, number]; readonly radiusMm: number }[];
  readonly description: string;
}

/** Size and scale that all boards of a job share. */
export interface BoardFrame {
  readonly width: number;
  readonly height: number;
  readonly ptPerMm: number;
}

const MARGIN = 5;
const LEAST_HEIGHT = 60;
const MOST_HEIGHT = 190;
const SMALL_NAME_SIZE = 5;
/** Rings below this area are noise at the edge of a band, pt². */
const LEAST_RING = 0.3;
const CROSS = 3;
const LEAST_RING_RADIUS = 3;

/** Choose one size and one scale for all boards of a job, so that a millimetre is as long on each of them.
 *  @param width of each picture, pt.
 */
export function boardFrame(boards: readonly BoardMap[], width: number): BoardFrame {
  const sizes = boards.map(({ outline }) => boundsOf(outline));
  const widest = Math.max(...sizes.map(({ minX, maxX }) => maxX - minX));
  const tallest = Math.max(...sizes.map(({ minY, maxY }) => maxY - minY));
  const ptPerMm = Math.min((width - 2 * MARGIN) / widest, (MOST_HEIGHT - 2 * MARGIN) / tallest);
  return { width, height: Math.max(LEAST_HEIGHT, tallest * ptPerMm + 2 * MARGIN), ptPerMm };
}

/** Draw a board: outline, parts of the side that was seen, the rise in bands of the shared scale, sources as crosses,
 *  names of the suspects. Always as seen from the top side, so that boards can be compared; the caption has to say so.
 */
export function drawSmallBoard(small: SmallBoard, scale: RiseScale | null, frame: BoardFrame): Plot {
  const place = placer(small.board, frame);
  const outline = small.board.outline.map(place);
  const regions = small.board.regions.filter(({ side }) => side === small.side);
  const items: PlotItem[] = [
    { kind: "path", rings: [outline], closed: true, fill: PLOT_COLOURS.board },
    { kind: "clip", ring: outline, items: [...bands(small.rise, scale, place)] },
    ...regions.map((region) => regionItem(region, place)),
    { kind: "path", rings: [outline], closed: true, stroke: PLOT_COLOURS.ink, width: 1 },
    ...smallNames(regions, small, place),
    {
      kind: "clip",
      ring: [
        [0, 0],
        [frame.width, 0],
        [frame.width, frame.height],
        [0, frame.height],
      ],
      items: small.noHeat.map(({ atMm, radiusMm }) => dashedRing(place(atMm), radiusMm * frame.ptPerMm)),
    },
    ...small.sources.flatMap(({ rank, atMm }) => cross(place(atMm), rank)),
    ...boardNames(small, place, frame),
  ];
  return { width: frame.width, height: frame.height, description: small.description, items };
}

type Placer = (point: readonly [number, number]) => PlotPoint;

function placer({ outline }: BoardMap, { width, height, ptPerMm }: BoardFrame): Placer {
  const { minX, maxX, minY, maxY } = boundsOf(outline);
  const left = (width - (maxX - minX) * ptPerMm) / 2;
  const top = (height - (maxY - minY) * ptPerMm) / 2;
  return ([x, y]) => [left + (x - minX) * ptPerMm, top + (y - minY) * ptPerMm];
}

/** Each band is drawn over the one before it. */
function bands(rise: BoardRise | null, scale: RiseScale | null, place: Placer): PlotItem[] {
  if (rise === null || scale === null) return [];
  return scale.bands.flatMap(({ fromK, colour }, i): PlotItem[] => {
    const nextK = scale.bands[i + 1]?.fromK ?? Number.POSITIVE_INFINITY;
    if (rise.leastRiseK >= nextK) return [];
    const rings = contourRings(rise, Math.max(fromK, rise.leastRiseK))
      .map((ring) =>
        ring.map(([x, y]) =>
          place([rise.originMm[0] + x * rise.pitchMm, rise.originMm[1] + y * rise.pitchMm]),
        ),
      )
      .filter((ring) => ringArea(ring) >= LEAST_RING);
    return rings.length === 0 ? [] : [{ kind: "path", rings, closed: true, fill: colour }];
  });
}

function ringArea(ring: readonly PlotPoint[]): number {
  let twice = 0;
  ring.forEach(([x, y], i) => {
    const [nextX, nextY] = ring[(i + 1) % ring.length]!;
    twice += x * nextY - nextX * y;
  });
  return Math.abs(twice) / 2;
}

function regionItem({ polygon, normallyWarm }: Region, place: Placer): PlotItem {
  return {
    kind: "path",
    rings: [polygon.map(place)],
    closed: true,
    stroke: PLOT_COLOURS.quiet,
    width: 0.4,
    ...(normallyWarm ? { dash: [1.6, 1.2] } : {}),
  };
}

/** Names of other parts where they fit into their own outline. */
function smallNames(
  regions: readonly Region[],
  { suspects, changed, warm }: SmallBoard,
  place: Placer,
): PlotItem[] {
  return regions.flatMap((region): PlotItem[] => {
    if ([...suspects, ...changed, ...warm].includes(region.ref)) return [];
    const { minX, maxX, minY, maxY } = boundsOf(region.polygon.map(place));
    const fits =
      estimateWidth(region.ref) * SMALL_NAME_SIZE <= maxX - minX && maxY - minY >= SMALL_NAME_SIZE * 1.2;
    if (!fits) return [];
    return [
      {
        kind: "text",
        at: [(minX + maxX) / 2, (minY + maxY) / 2 + SMALL_NAME_SIZE * 0.35],
        text: region.ref,
        size: SMALL_NAME_SIZE,
        anchor: "middle",
        colour: PLOT_COLOURS.quiet,
        halo: true,
      },
    ];
  });
}

function dashedRing([x, y]: PlotPoint, radius: number): PlotItem {
  const held = Math.max(LEAST_RING_RADIUS, radius);
  const ring = Array.from({ length: 36 }, (_, k): PlotPoint => {
    const angle = (Math.PI * k) / 18;
    return [x + held * Math.cos(angle), y + held * Math.sin(angle)];
  });
  return {
    kind: "path",
    rings: [ring],
    closed: true,
    stroke: PLOT_COLOURS.ink,
    width: 0.7,
    dash: [2.2, 1.6],
  };
}

/** A dark cross on a light one, so that it is seen on every colour. */
function cross([x, y]: PlotPoint, rank: number): PlotItem[] {
  const arm = rank === 1 ? CROSS : CROSS * 0.7;
  const rings = (more: number): PlotPoint[][] => [
    [
      [x - arm - more, y],
      [x + arm + more, y],
    ],
    [
      [x, y - arm - more],
      [x, y + arm + more],
    ],
  ];
  return [
    { kind: "path", rings: rings(0.6), closed: false, stroke: PLOT_COLOURS.ground, width: 2 },
    { kind: "path", rings: rings(0), closed: false, stroke: PLOT_COLOURS.ink, width: 0.8 },
  ];
}
