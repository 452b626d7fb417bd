// A page with the editor of the board alone, its server played in memory; what was saved stands in `window.saved`.
import { render } from "preact";
import type { callApi } from "../../src/api/call-api.js";
import type { View } from "../../src/board/board-schema.js";
import { DrawView } from "../../src/page/draw/draw-view.js";
import { SaidRegion } from "../../src/page/said-region.js";
import { followTheme } from "../../src/page/state/settings.js";
import "../../src/page/theme.css";
import "../../src/page/controls.css";
import "../../src/page/shell.css";

declare global {
  interface Window {
    saved: unknown[];
    drafts: Record<string, unknown>;
  }
}

const WIDTH = 160;
const HEIGHT = 120;
window.saved = [];
window.drafts = JSON.parse(sessionStorage.getItem("drafts") ?? "{}");

/** A board from pixel (20, 22) to (136, 90), 2 px to a mm, with a few parts a little warmer than it. */
function drawFrame(): Float32Array {
  const data = new Float32Array(WIDTH * HEIGHT);
  for (let y = 0; y < HEIGHT; y++) {
    for (let x = 0; x < WIDTH; x++) {
      const isBoard = x >= 20 && x <= 136 && y >= 22 && y <= 90;
      const isPart = isBoard && (x - 20) % 40 > 24 && (y - 22) % 30 > 16;
      data[y * WIDTH + x] = 21.3 + (isBoard ? 2 : 0) + (isPart ? 0.8 : 0) + 0.004 * x;
    }
  }
  return data;
}

const asked = new URLSearchParams(location.search).get("place");
const PLACED: View = {
  kind: "faultglow/view",
  version: 1,
  side: "top",
  frame: { width: WIDTH, height: HEIGHT },
  fiducials: [
    { board: [0, 0], pixel: [19.5, 21.5] },
    { board: [58.5, 0], pixel: [136.5, 21.5] },
    { board: [58.5, 34.5], pixel: [136.5, 90.5] },
    { board: [0, 34.5], pixel: [19.5, 90.5] },
  ],
};
interface Words {
  readonly name: string;
  readonly body: unknown;
}
const answers: Record<string, (words: Words) => unknown> = {
  draft: ({ name }) => ({ draft: window.drafts[name] ?? null }),
  saveDraft: ({ name, body }) => {
    window.drafts[name] = (body as { draft: unknown }).draft;
    sessionStorage.setItem("drafts", JSON.stringify(window.drafts));
    return { done: true };
  },
  saveBoard: ({ body }) => {
    const { map } = body as { map: { name?: string } };
    return { seq: 1, name: map.name ?? "board", sha256: "ab".repeat(32), notes: [] };
  },
  library: () => ({ boards: [] }),
  // `?place=trusted` and `?place=doubtful`: an earlier attempt has the board where it is, or perhaps.
  place: () => ({
    view: PLACED,
    trusted: asked === "trusted",
    reason: asked === "trusted" ? null : "edges agree in part only",
    sigmaPx: 0.2,
    sigmaMm: 0.104,
    by: { job: "job-1", attempt: 3, view: 0 },
  }),
};
const call = (async (name: string, words: Words) => {
  const answer = answers[name];
  if (answer === undefined) throw new Error(`${name} is not played here`);
  return answer(words);
}) as unknown as typeof callApi;

followTheme();
render(
  <>
    <div style={{ height: "calc(100vh - 16px)", padding: "8px", boxSizing: "border-box" }}>
      <DrawView
        job="job-1"
        device="tide clock"
        board={null}
        view={null}
        frame={{
          sha256: "cd".repeat(32),
          name: "baseline.csv",
          width: WIDTH,
          height: HEIGHT,
          data: drawFrame(),
        }}
        photos={[]}
        canPlace={asked !== null}
        onSave={(saved) => window.saved.push(saved)}
        call={call}
      />
    </div>
    <SaidRegion />
  </>,
  document.getElementById("app")!,
);
