// page: the region that is chosen → a form for all that may be said of it.
import { FINISHES } from "../../board/board-schema.js";
import { ChoiceField } from "./choice-field.js";
import { change, type DrawSession } from "./draw-session.js";
import { changeRegion, type RegionFields } from "./model/change-regions.js";
import type { DrawnRegion } from "./model/drawing.js";
import { cornersOf, readRectangle } from "./model/rectangle.js";
import { NumberField } from "./number-field.js";
import { RectangleFields } from "./rectangle-fields.js";
import { TextField } from "./text-field.js";

const KINDS = Object.freeze({
  ic: "IC",
  passive: "passive",
  shield: "shield (a can over parts)",
  connector: "connector",
  other: "other",
});

/** Edit the fields of one region. */
export function RegionForm({
  session,
  region,
}: {
  readonly session: DrawSession;
  readonly region: DrawnRegion;
}) {
  const set = (fields: RegionFields, what: string): void => {
    const next = changeRegion(session.drawing.value, region.id, fields);
    change(session, next, `Change the ${what} of ${region.ref || "a region"}`, `${what} ${region.id}`, null);
  };
  const rectangle = readRectangle(region.polygon);
  return (
    <fieldset id="draw-form" class="draw-form" aria-label={`Region ${region.ref}`}>
      <TextField label="Ref" value={region.ref} onSet={(ref) => set({ ref }, "ref")} />
      <TextField
        label="Label"
        value={region.label ?? ""}
        onSet={(label) => set({ label: label || undefined }, "label")}
      />
      <ChoiceField
        label="Side"
        value={region.side}
        choices={{ top: "top", bottom: "bottom" }}
        onSet={(side) => {
          if (side !== "top" && side !== "bottom") return;
          set({ side }, "side");
          session.side.value = side;
        }}
      />
      <ChoiceField
        label="Kind"
        value={region.kind ?? ""}
        choices={{ "": "not said", ...KINDS }}
        onSet={(kind) => set({ kind: (kind || undefined) as DrawnRegion["kind"] }, "kind")}
      />
      <ChoiceField
        label="Finish"
        value={region.emissivity === undefined ? (region.finish ?? "") : "emissivity"}
        choices={{
          "": "not said",
          ...Object.fromEntries(FINISHES.map((finish) => [finish, finish.replace("-", " ")])),
          emissivity: "known emissivity",
        }}
        onSet={(finish) =>
          set(
            finish === "emissivity"
              ? { finish: undefined, emissivity: 0.9 }
              : { finish: (finish || undefined) as DrawnRegion["finish"], emissivity: undefined },
            "finish",
          )
        }
      />
      {region.emissivity !== undefined && (
        <NumberField
          label="Emissivity"
          value={region.emissivity}
          step={0.01}
          least={0.01}
          most={1}
          onSet={(emissivity) => set({ emissivity }, "emissivity")}
        />
      )}
      <TextField
        label="Nets, with commas between"
        value={(region.nets ?? []).join(", ")}
        isLate
        onSet={(typed) => {
          const nets = typed
            .split(/[,;]/)
            .map((net) => net.trim())
            .filter((net) => net !== "");
          set({ nets: nets.length > 0 ? nets : undefined }, "nets");
        }}
      />
      <label class="draw-check">
        <input
          type="checkbox"
          checked={region.normallyWarm === true}
          onChange={(event) => set({ normallyWarm: event.currentTarget.checked || undefined }, "warmth")}
        />
        Warm on a healthy board too
      </label>
      {rectangle !== null && (
        <RectangleFields
          rectangle={rectangle}
          step={session.gridMm.value}
          onSet={(next) => set({ polygon: cornersOf(next) }, "size")}
        />
      )}
    </fieldset>
  );
}
