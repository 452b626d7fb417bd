// page: files and the map library → ways to bring a map in, and to take it out.

import { useState } from "preact/hooks";
import type { LibraryBoard } from "../../api/boards-schema.js";
import { callApi } from "../../api/call-api.js";
import { countOf } from "../../core/count-of.js";
import type { ImportOptions } from "../../import/import-options.js";
import { announceError } from "../state/announce.js";
import { showNumber } from "../state/settings.js";
import { exportMap, readMap, type Taking, takeMap } from "./bring-map.js";
import { ChoiceField } from "./choice-field.js";
import type { DrawSession } from "./draw-session.js";
import { formWords } from "./form-words.js";
import { NumberField } from "./number-field.js";
import { say } from "./say.js";

/** Bring a map from a file. */
export function ImportPanel({ session }: { readonly session: DrawSession }) {
  const hasOutline = session.drawing.value.outline.length > 0;
  const [words, setWords] = useState<ImportOptions>({});
  const [taking, setTaking] = useState<Taking>("regions");
  const [size, setSize] = useState<readonly [number | null, number | null]>([null, null]);
  const [said, setSaid] = useState<{ text: string; notes: readonly string[]; isBad: boolean } | null>(null);
  const set = (more: ImportOptions): void => setWords({ ...words, ...more });

  const bring = async (file: File): Promise<void> => {
    const [widthMm, heightMm] = size;
    const outline =
      taking === "regions" && hasOutline
        ? session.drawing.value.outline
        : widthMm !== null && heightMm !== null
          ? { widthMm, heightMm }
          : undefined;
    try {
      const { board, notes } = await readMap(new Uint8Array(await file.arrayBuffer()), file.name, {
        ...words,
        outline,
      });
      takeMap(session, board, taking, `Import ${file.name}`);
      setSaid({
        text: `${countOf(board.regions.length, "region")} of ${file.name}`,
        notes: notes.map(({ text }) => formWords(text)),
        isBad: false,
      });
    } catch (error) {
      const text = formWords(error instanceof Error ? error.message : String(error));
      say(text, true);
      setSaid({ text, notes: [], isBad: true });
    }
  };
  return (
    <details class="draw-panel">
      <summary>Import a table, SVG or map</summary>
      <div class="draw-form">
        <ChoiceField
          label="Take"
          value={taking}
          choices={{ regions: "its regions into this drawing", all: "all of it in place of this drawing" }}
          onSet={(value) => setTaking(value === "all" ? "all" : "regions")}
        />
        <ChoiceField
          label="Unit"
          value={words.unit ?? ""}
          choices={{ "": "as the file says", mm: "mm", mil: "mil", inch: "inch", um: "µm" }}
          onSet={(unit) => set({ unit: (unit || undefined) as ImportOptions["unit"] })}
        />
        <ChoiceField
          label="In a table, y grows"
          value={words.yAxis ?? "up"}
          choices={{ up: "upwards", down: "downwards" }}
          onSet={(yAxis) => set({ yAxis: yAxis as ImportOptions["yAxis"] })}
        />
        <ChoiceField
          label="In a table, x of the bottom is"
          value={words.bottomX ?? "same"}
          choices={{ same: "the same as on top", negated: "negative", mirrored: "from the other edge" }}
          onSet={(bottomX) => set({ bottomX: bottomX as ImportOptions["bottomX"] })}
        />
        <ChoiceField
          label="0402 and 0603 are"
          value={words.chipCodes ?? "imperial"}
          choices={{ imperial: "imperial codes", metric: "metric codes" }}
          onSet={(chipCodes) => set({ chipCodes: chipCodes as ImportOptions["chipCodes"] })}
        />
        {!(taking === "regions" && hasOutline) && (
          <span class="draw-pair">
            <NumberField
              label="Board, width"
              unit="mm"
              least={1}
              value={size[0]}
              onClear={() => setSize([null, size[1]])}
              onSet={(value) => setSize([value, size[1]])}
            />
            <NumberField
              label="height"
              unit="mm"
              least={1}
              value={size[1]}
              onClear={() => setSize([size[0], null])}
              onSet={(value) => setSize([size[0], value])}
            />
          </span>
        )}
        <NumberField
          label="Size of parts that nothing tells"
          unit="mm"
          least={0.1}
          value={words.defaultSize?.widthMm ?? null}
          onClear={() => set({ defaultSize: undefined })}
          onSet={(value) => set({ defaultSize: { widthMm: value, heightMm: value } })}
        />
        <label class="draw-file">
          <span>Choose a file</span>
          <input
            type="file"
            accept=".csv,.tsv,.txt,.pos,.xy,.svg,.json"
            onChange={(event) => {
              const [file] = event.currentTarget.files ?? [];
              event.currentTarget.value = "";
              if (file) void bring(file);
            }}
          />
        </label>
      </div>
      {said !== null && (
        <p class={said.isBad ? "draw-wrong" : ""}>{said.isBad ? `⚠ ${said.text}` : said.text}</p>
      )}
      {said !== null && said.notes.length > 0 && (
        <ul>
          {said.notes.map((text) => (
            <li key={text}>{text}</li>
          ))}
        </ul>
      )}
    </details>
  );
}

/** Maps that were drawn in other jobs, those of the same device first. */
export function LibraryPanel({ session }: { readonly session: DrawSession }) {
  const { props } = session;
  const call = props.call ?? callApi;
  const [boards, setBoards] = useState<readonly LibraryBoard[] | null>(null);
  const load = async (): Promise<void> => {
    const same = ({ device }: LibraryBoard): boolean =>
      device.trim().toLowerCase() === props.device.trim().toLowerCase();
    const { boards: all } = await call("library", {});
    setBoards([...all.filter(same), ...all.filter((board) => !same(board))]);
  };
  const take = async (chosen: LibraryBoard): Promise<void> => {
    const { map } = await call("board", { job: chosen.job, sha256: chosen.sha256 });
    takeMap(session, map, "all", `Take the map ${chosen.name} of ${chosen.device}`);
  };
  return (
    <details
      class="draw-panel"
      onToggle={(event) => {
        if (event.currentTarget.open && boards === null) load().catch(announceError);
      }}
    >
      <summary>Map library</summary>
      {boards !== null && boards.length === 0 && <p>No map has been saved yet.</p>}
      <ul class="draw-library">
        {(boards ?? []).map((board) => (
          <li key={`${board.job} ${board.sha256}`}>
            <span>
              <strong>{board.device}</strong> {board.name}
              <br />
              {showNumber(`${board.sizeMm.map((mm) => mm.toFixed(1)).join(" × ")} mm`)},{" "}
              {countOf(board.regions.top, "region")} on top, {board.regions.bottom} on the bottom
            </span>
            <button
              type="button"
              aria-label={`Use ${board.name} of ${board.device}`}
              onClick={() => take(board).catch(announceError)}
            >
              Use
            </button>
          </li>
        ))}
      </ul>
    </details>
  );
}

/** Take the map out as a file. */
export function ExportPanel({ session }: { readonly session: DrawSession }) {
  const exported = (form: "json" | "svg"): void => {
    exportMap(session, form).catch(announceError);
  };
  return (
    <details class="draw-panel">
      <summary>Export</summary>
      <div class="draw-row">
        <button type="button" onClick={() => exported("svg")}>
          As SVG
        </button>
        <button type="button" onClick={() => exported("json")}>
          As JSON
        </button>
      </div>
    </details>
  );
}
