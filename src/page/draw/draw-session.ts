// page: what the editor was given → the signals that hold what is drawn, what is chosen, and how it is looked at.
import { computed, type ReadonlySignal, type Signal, signal } from "@preact/signals";
import type { Point } from "../../board/polygon.js";
import type { DrawProps } from "./draw-view.js";
import type { Camera, PaneSize } from "./model/camera.js";
import {
  type Drawing,
  type DrawnRegion,
  drawingOf,
  EMPTY_DRAWING,
  FRAME,
  placementOf,
  type Side,
} from "./model/drawing.js";
import type { ShapeName } from "./model/find-under.js";
import { beginHistory, type History, record, redo, undo } from "./model/history.js";
import { type DrawingProblem, listProblems } from "./model/list-problems.js";
import { type Placing, solvePlacing } from "./model/placing.js";
import { say } from "./say.js";

/** What the pointer, or Enter, does on the board. */
export type Tool = "choose" | "outline" | "polygon" | "rectangle" | "turned";
/** The board alone, or a picture beside it whose fiducials are picked. */
export type Mode = "draw" | "place";

/** Ways to begin from a picture: corners of a rectangular board, a length that is known, or fiducials one by one. */
export type StartWay = "corners" | "length" | "one by one";

/** A picture that can lie under the board. */
export interface Picture {
  /** Name of its placement. */
  readonly key: string;
  readonly name: string;
  readonly width: number;
  readonly height: number;
  /** °C of a frame; null for a photo, which has an address. */
  readonly data: Float32Array | null;
  readonly address: string | null;
}

/** A pane: how it looks at its plane, and its size on the screen. */
export interface Pane {
  /** Smallest and largest scale, screen px per unit of the plane. */
  readonly limits: readonly [number, number];
  readonly camera: Signal<Camera>;
  readonly size: Signal<PaneSize>;
  /** Where the keyboard is, on the plane. */
  readonly cursor: Signal<Point>;
}

/** From a board that fills a stamp to a pixel of a chip, screen px per mm … */
const BOARD_SCALES = [0.2, 2000] as const;
/** … and from a large photo to a few of its pixels, screen px per px. */
const PICTURE_SCALES = [0.02, 400] as const;

/** All that the parts of the editor share. */
export interface DrawSession {
  readonly props: DrawProps;
  readonly history: Signal<History<Drawing>>;
  /** What a drag would make; null while none is going on. */
  readonly preview: Signal<Drawing | null>;
  readonly drawing: ReadonlySignal<Drawing>;
  /** What is wrong with the map, a moment after each change. */
  readonly problems: Signal<readonly DrawingProblem[]>;
  readonly mode: Signal<Mode>;
  readonly tool: Signal<Tool>;
  /** Side that is seen. */
  readonly side: Signal<Side>;
  /** Ids of the regions that are chosen. */
  readonly chosen: Signal<ReadonlySet<number>>;
  /** True if the outline is chosen. */
  readonly isOutlineChosen: Signal<boolean>;
  /** Shape whose corners have handles; null if none or several are chosen. */
  readonly shape: ReadonlySignal<ShapeName | null>;
  /** Corner of that shape that is chosen. */
  readonly corner: Signal<number | null>;
  /** Corners that the tool was given so far. */
  readonly points: Signal<readonly Point[]>;
  readonly gridMm: Signal<number>;
  readonly pictures: Signal<readonly Picture[]>;
  /** Key of the picture that is shown; null: none. */
  readonly shown: Signal<string | null>;
  readonly picture: ReadonlySignal<Picture | null>;
  /** True if faint edges of the picture are brought out. */
  readonly isEvened: Signal<boolean>;
  readonly placing: ReadonlySignal<Placing | null>;
  /** Number of the fiducial that is picked next; null: the first that misses an end, else a new one. */
  readonly fiducial: Signal<number | null>;
  /** Two corners of the frame that is drawn around regions to choose them, mm; null: none. */
  readonly choosing: Signal<readonly [Point, Point] | null>;
  readonly startWay: Signal<StartWay>;
  /** Points of the picture that were picked to begin with. */
  readonly startPoints: Signal<readonly Point[]>;
  readonly board: Pane;
  readonly photo: Pane;
}

/** Begin to edit what the props bring. */
export function beginSession(given: DrawProps): DrawSession {
  const props = { ...given };
  const history = signal(beginHistory(firstDrawing(props)));
  const preview = signal<Drawing | null>(null);
  const drawing = computed(() => preview.value ?? history.value.now.state);
  const chosen = signal<ReadonlySet<number>>(new Set());
  const isOutlineChosen = signal(false);
  const pictures = signal(firstPictures(props));
  const shown = signal<string | null>(pictures.value[0]?.key ?? null);
  const picture = computed(() => pictures.value.find(({ key }) => key === shown.value) ?? null);
  return {
    props,
    history,
    preview,
    drawing,
    problems: signal(listProblems(history.value.now.state)),
    mode: signal<Mode>(props.frame !== null && props.view === null ? "place" : "draw"),
    tool: signal<Tool>("choose"),
    side: signal<Side>(props.view?.side ?? "top"),
    chosen,
    isOutlineChosen,
    shape: computed(() => {
      if (isOutlineChosen.value) return "outline";
      const [only] = chosen.value;
      return chosen.value.size === 1 && only !== undefined ? only : null;
    }),
    corner: signal<number | null>(null),
    points: signal<readonly Point[]>([]),
    gridMm: signal(0.5),
    pictures,
    shown,
    picture,
    isEvened: signal(false),
    placing: computed(() => (picture.value === null ? null : solvePlacing(drawing.value, picture.value.key))),
    fiducial: signal<number | null>(null),
    choosing: signal<readonly [Point, Point] | null>(null),
    startWay: signal<StartWay>(props.board === null && props.view === null ? "corners" : "one by one"),
    startPoints: signal<readonly Point[]>([]),
    board: newPane(BOARD_SCALES),
    photo: newPane(PICTURE_SCALES),
  };
}

/** Make a step of the history.
 *  @param did in words, "Move U7"; announced with what `said` adds.
 *  @param key steps of one key are undone together. */
export function change(
  session: DrawSession,
  next: Drawing,
  did: string,
  key: string | null = null,
  said: string | null = did,
): void {
  session.preview.value = null;
  const before = session.history.value;
  session.history.value = record(before, next, did, key);
  if (said !== null && session.history.value !== before) say(said);
}

/** Go one step back, or bring one back, and say which. */
export function step(session: DrawSession, way: "undo" | "redo"): void {
  const before = session.history.value;
  const after = (way === "undo" ? undo : redo)(before);
  if (after === before) {
    say(way === "undo" ? "Nothing left to undo" : "Nothing left to redo");
    return;
  }
  session.preview.value = null;
  session.points.value = [];
  session.history.value = after;
  forgetGone(session);
  say(way === "undo" ? `Undone: ${before.now.did}` : `Done again: ${after.now.did}`);
}

/** Choose regions and nothing else. */
export function choose(session: DrawSession, ids: Iterable<number>): void {
  session.chosen.value = new Set(ids);
  session.isOutlineChosen.value = false;
  session.corner.value = null;
}

/** Choose the outline. */
export function chooseOutline(session: DrawSession): void {
  choose(session, []);
  session.isOutlineChosen.value = true;
}

/** The regions that are chosen, in the order of the drawing. */
export function chosenRegions(session: DrawSession): readonly DrawnRegion[] {
  return session.drawing.value.regions.filter(({ id }) => session.chosen.value.has(id));
}

/** Key of the frame among the placements. */
export function frameKey({ frame }: DrawProps): string {
  return frame?.sha256 ?? FRAME;
}

/** What is no longer there can't stay chosen. */
function forgetGone({ history, chosen, corner, fiducial }: DrawSession): void {
  const ids = new Set(history.value.now.state.regions.map(({ id }) => id));
  chosen.value = new Set([...chosen.value].filter((id) => ids.has(id)));
  corner.value = null;
  fiducial.value = null;
}

function firstDrawing(props: DrawProps): Drawing {
  const blank = { ...EMPTY_DRAWING, name: props.device };
  const drawing = props.board === null ? blank : drawingOf(props.board);
  if (props.view === null || props.frame === null) return drawing;
  return { ...drawing, placements: { [frameKey(props)]: placementOf(props.view) } };
}

function firstPictures(props: DrawProps): Picture[] {
  const { frame } = props;
  return frame === null ? [] : [{ ...frame, key: frameKey(props), address: null }];
}

function newPane(limits: Pane["limits"]): Pane {
  return {
    limits,
    camera: signal<Camera>({ centre: [0, 0], scale: 10, isMirrored: false }),
    size: signal<PaneSize>({ width: 0, height: 0 }),
    cursor: signal<Point>([0, 0]),
  };
}
