import { describe, expect, it } from "vitest";
import { change, choose } from "../../../../src/page/draw/draw-session.js";
import { nudge } from "../../../../src/page/draw/edit-actions.js";
import { loadDraft, saveDrawing } from "../../../../src/page/draw/keep-drawing.js";
import { draftOf } from "../../../../src/page/draw/model/draft.js";
import { mapOf } from "../../../../src/page/draw/model/drawing.js";
import { said } from "../../../../src/page/state/announce.js";
import { begin } from "./begin-editor.js";
import { smallDrawing } from "./drawings.js";

describe("saving", () => {
  it("hands the map over unsaved where it was left as it was", async () => {
    const { session, saved, asked } = begin();
    await saveDrawing(session);
    expect(saved).toEqual([{ map: mapOf(smallDrawing()), view: null, name: "tide clock", sha256: null }]);
    expect(asked).toEqual([]);
  });

  it("saves a map that changed, and none with an error", async () => {
    const { session, saved, asked, idOf } = begin(
      {},
      { saveBoard: { name: "tide clock", sha256: "cd", seq: 2, notes: [] } },
    );
    choose(session, [idOf("C3")]);
    nudge(session, [100, 0]);
    await saveDrawing(session);
    expect([saved, asked]).toEqual([[], []]);
    expect(session.chosen.value).toEqual(new Set([idOf("C3")]));
    nudge(session, [-99, 0]);
    await saveDrawing(session);
    expect([asked, saved[0]!.sha256]).toEqual([["saveBoard"], "cd"]);
  });

  it("hands over the view of the frame, whatever picture is shown beside it", async () => {
    const fiducials = [
      { board: [0, 0] as const, pixel: [5, 6] as const },
      { board: [58, 0] as const, pixel: [60, 7] as const },
    ];
    // Two fiducials at one place of the picture can't be believed.
    const wrong = [fiducials[0]!, { ...fiducials[1]!, pixel: [5, 6] as const }];
    const place = { side: "top", width: 64, height: 48 } as const;
    const photo = { key: "cd", name: "photo.jpg", width: 64, height: 48, data: null, address: "photo" };
    for (const isFrameSound of [true, false]) {
      const { session, saved } = begin();
      session.pictures.value = [...session.pictures.value, photo];
      const [ofFrame, ofPhoto] = isFrameSound ? [fiducials, wrong] : [wrong, fiducials];
      const placements = { ab: { ...place, fiducials: ofFrame }, cd: { ...place, fiducials: ofPhoto } };
      change(session, { ...session.drawing.value, placements }, "Place both");
      session.shown.value = "cd";
      await saveDrawing(session);
      expect(session.placing.value!.isWrong).toBe(isFrameSound);
      expect(saved[0]!.view?.fiducials).toEqual(isFrameSound ? fiducials : undefined);
      if (!isFrameSound)
        expect(said.value.text).toMatch(/^The map is kept, but the baseline is not placed\. /);
    }
  });

  it("takes a draft up, unless something was drawn meanwhile", async () => {
    const draft = draftOf({ ...smallDrawing(), thicknessMm: 1.2 });
    const { session } = begin({}, { draft: { draft } });
    expect(await loadDraft(session)).toBe(true);
    expect(session.drawing.value.thicknessMm).toBe(1.2);
    const busy = begin({}, { draft: { draft } });
    choose(busy.session, [busy.idOf("U7")]);
    nudge(busy.session, [1, 0]);
    expect(await loadDraft(busy.session)).toBe(false);
    expect(busy.session.drawing.value.thicknessMm).toBeNull();
    // A draft of what is saved is no news.
    expect(await loadDraft(begin({}, { draft: { draft: draftOf(smallDrawing()) } }).session)).toBe(false);
  });
});
