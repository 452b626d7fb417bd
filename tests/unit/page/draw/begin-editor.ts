// page: props of the editor, as far as a test cares → a session of it, and what it asks and saves.
import { beginSession } from "../../../../src/page/draw/draw-session.js";
import type { DrawProps } from "../../../../src/page/draw/draw-view.js";
import { mapOf } from "../../../../src/page/draw/model/drawing.js";
import { smallDrawing } from "./drawings.js";

type Saved = Parameters<DrawProps["onSave"]>[0];

/** Begin to edit the small board. @param answers of the server, by the name of the call. */
export function begin(more: Partial<DrawProps> = {}, answers: Record<string, unknown> = {}) {
  const saved: Saved[] = [];
  const asked: string[] = [];
  const session = beginSession({
    job: "job-1",
    device: "tide clock",
    board: mapOf(smallDrawing()),
    view: null,
    frame: { sha256: "ab", name: "baseline.csv", width: 64, height: 48, data: new Float32Array(64 * 48) },
    photos: [],
    canPlace: false,
    onSave: (what) => saved.push(what),
    call: (async (name: string) => {
      asked.push(name);
      return answers[name];
    }) as unknown as NonNullable<DrawProps["call"]>,
    ...more,
  });
  session.mode.value = "draw";
  const idOf = (ref: string) => session.drawing.value.regions.find((region) => region.ref === ref)!.id;
  const first = (ref: string) =>
    session.drawing.value.regions.find((region) => region.ref === ref)!.polygon[0];
  return { session, saved, asked, idOf, first };
}
