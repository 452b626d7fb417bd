// page: wheel, pinch and drags on a pane → its camera moved, and what is left over for whoever draws there.
import type { RefObject } from "preact";
import { useLayoutEffect } from "preact/hooks";
import type { Point } from "../../board/polygon.js";
import type { Pane } from "./draw-session.js";
import { type Camera, fromScreen, keepSeen, type PaneSize, pan, zoomAt } from "./model/camera.js";

/** What a drag does; points are of the plane. */
export interface Drag {
  /** @param moved px of the screen since the beginning. */
  readonly move: (at: Point, event: PointerEvent, moved: number) => void;
  /** @param moved px of the screen, the most that it was away from the beginning. */
  readonly end: (at: Point, event: PointerEvent, moved: number) => void;
  readonly cancel: () => void;
}

/** Who draws on a pane. */
export interface PaneUser {
  /** Begin a drag; null: the pane moves with the pointer, and `click` follows if it hardly moved. */
  readonly begin: (at: Point, event: PointerEvent) => Drag | null;
  readonly click: (at: Point, event: PointerEvent) => void;
  readonly hover: (at: Point, event: PointerEvent) => void;
}

/** A pointer that moved less than this was pressed, not dragged, px. */
export const CLICK_PX = 4;
/** A notch of a wheel is about 100: a zoom by a fifth. */
const ZOOM_PER_WHEEL = 0.002;

/** Listen to the pointers of a pane's element. */
export function usePaneGestures(ref: RefObject<HTMLElement | null>, pane: Pane, user: PaneUser): void {
  // Before the first frame is shown: who is quick must not press in vain.
  useLayoutEffect(() => {
    const element = ref.current;
    if (element === null) return undefined;
    return listen(element, pane, user);
  }, [pane, user]);
}

function listen(element: HTMLElement, pane: Pane, user: PaneUser): () => void {
  const { camera, size, limits } = pane;
  const places = new Map<number, Point>();
  let drag: Drag | null = null;
  let begun: Point | null = null;
  let farthest = 0;

  const onScreen = (event: MouseEvent): Point => {
    const { left, top } = element.getBoundingClientRect();
    // Borders are no part of the pane's inside.
    return [event.clientX - left - element.clientLeft, event.clientY - top - element.clientTop];
  };
  const onPlane = (event: MouseEvent): Point => fromScreen(camera.value, size.value, onScreen(event));

  const down = (event: PointerEvent): void => {
    if (places.size === 0 && event.pointerType === "mouse" && event.button === 2) return;
    element.setPointerCapture(event.pointerId);
    places.set(event.pointerId, onScreen(event));
    if (places.size > 1) {
      // A second finger: what the first had begun was no drawing.
      drag?.cancel();
      drag = null;
      begun = null;
      return;
    }
    begun = onScreen(event);
    farthest = 0;
    drag = event.button === 1 ? null : user.begin(onPlane(event), event);
  };
  const move = (event: PointerEvent): void => {
    const before = places.get(event.pointerId);
    if (before === undefined) {
      user.hover(onPlane(event), event);
      return;
    }
    const now = onScreen(event);
    if (places.size > 1) pinch(event.pointerId, now);
    places.set(event.pointerId, now);
    if (begun === null || places.size > 1) return;
    farthest = Math.max(farthest, Math.hypot(now[0] - begun[0], now[1] - begun[1]));
    if (drag !== null) drag.move(onPlane(event), event, farthest);
    else if (farthest > CLICK_PX) camera.value = pan(camera.value, [now[0] - before[0], now[1] - before[1]]);
  };
  const pinch = (id: number, now: Point): void => {
    const [other] = [...places].filter(([key]) => key !== id).map(([, place]) => place);
    const before = places.get(id)!;
    if (other === undefined) return;
    const apart = (place: Point): number => Math.max(1, Math.hypot(place[0] - other[0], place[1] - other[1]));
    const middle: Point = [(now[0] + other[0]) / 2, (now[1] + other[1]) / 2];
    const moved = pan(camera.value, [(now[0] - before[0]) / 2, (now[1] - before[1]) / 2]);
    camera.value = zoomAt(moved, size.value, middle, apart(now) / apart(before), limits);
  };
  const up = (event: PointerEvent): void => {
    if (!places.delete(event.pointerId) || begun === null) return;
    begun = null;
    const ended = drag;
    drag = null;
    if (ended !== null) ended.end(onPlane(event), event, farthest);
    else if (farthest <= CLICK_PX && event.button === 0) user.click(onPlane(event), event);
  };
  const cancel = (event: PointerEvent): void => {
    places.delete(event.pointerId);
    drag?.cancel();
    drag = null;
    begun = null;
  };
  const wheel = (event: WheelEvent): void => {
    event.preventDefault();
    // Lines and pages are about 16 and 400 px.
    const px = event.deltaY * ([1, 16, 400][event.deltaMode] ?? 1);
    // A pinch on a touch pad comes as a wheel with Ctrl, in finer steps.
    const factor = Math.exp(-px * ZOOM_PER_WHEEL * (event.ctrlKey ? 4 : 1));
    camera.value = zoomAt(camera.value, size.value, onScreen(event), factor, limits);
  };

  // What was seen when the camera was last moved by hand: a window that is made small and large again shows it as
  // before.
  let seen: { readonly camera: Camera; readonly size: PaneSize } | null = null;
  let kept: Camera | null = null;
  let lastWindow = windowSize();
  const follow = (to: PaneSize): void => {
    const from = size.value;
    const isWindow = windowSize() !== lastWindow;
    lastWindow = windowSize();
    // A form that opens beside the pane is no reason to move what is drawn on.
    if (!isWindow || from.width * from.height * to.width * to.height === 0) {
      seen = null;
      return;
    }
    if (seen === null || camera.value !== kept) seen = { camera: camera.value, size: from };
    kept = keepSeen(seen.camera, seen.size, to);
    camera.value = kept;
  };
  const measure = (): void => {
    const { clientWidth: width, clientHeight: height } = element;
    if (size.value.width === width && size.value.height === height) return;
    follow({ width, height });
    size.value = { width, height };
  };
  const watched = new ResizeObserver(measure);
  watched.observe(element);
  measure();
  element.addEventListener("pointerdown", down);
  element.addEventListener("pointermove", move);
  element.addEventListener("pointerup", up);
  element.addEventListener("pointercancel", cancel);
  element.addEventListener("wheel", wheel, { passive: false });
  return () => {
    watched.disconnect();
    element.removeEventListener("pointerdown", down);
    element.removeEventListener("pointermove", move);
    element.removeEventListener("pointerup", up);
    element.removeEventListener("pointercancel", cancel);
    element.removeEventListener("wheel", wheel);
  };
}

const windowSize = (): string => `${innerWidth} × ${innerHeight}`;
