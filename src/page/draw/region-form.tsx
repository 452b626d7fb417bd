// page: the region that is chosen → a form for all that may be said of it.
import { FINISHES } from "../../board/board-schema.js";
import { change, type DrawSession } from "./draw-session.js";
import { changeRegion, type RegionFields } from "./model/change-regions.js";
import type { DrawnRegion } from "./model/drawing.js";
import { cornersOf, type Rectangle, readRectangle } from "./model/rectangle.js";
import { NumberField } from "./number-field.js";

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
          onSet={(emissivity) => set({ emissivity: Math.min(1, emissivity) }, "emissivity")}
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

/** Edit a rectangle by its numbers. */
export function RectangleFields(props: {
  readonly rectangle: Rectangle;
  readonly step: number;
  readonly onSet: (next: Rectangle) => void;
}) {
  const { rectangle, step, onSet } = props;
  const [x, y] = rectangle.centre;
  return (
    <fieldset class="draw-numbers" aria-label="Place and size">
      <NumberField
        label="Middle x"
        unit="mm"
        value={x}
        step={step}
        onSet={(value) => onSet({ ...rectangle, centre: [value, y] })}
      />
      <NumberField
        label="Middle y"
        unit="mm"
        value={y}
        step={step}
        onSet={(value) => onSet({ ...rectangle, centre: [x, value] })}
      />
      <NumberField
        label="Width"
        unit="mm"
        value={rectangle.widthMm}
        step={step}
        least={0.05}
        onSet={(widthMm) => onSet({ ...rectangle, widthMm })}
      />
      <NumberField
        label="Height"
        unit="mm"
        value={rectangle.heightMm}
        step={step}
        least={0.05}
        onSet={(heightMm) => onSet({ ...rectangle, heightMm })}
      />
      <NumberField
        label="Turned by"
        unit="°"
        value={rectangle.turnDeg}
        step={1}
        onSet={(turnDeg) => onSet({ ...rectangle, turnDeg })}
      />
    </fieldset>
  );
}

interface TextFieldProps {
  readonly label: string;
  readonly value: string;
  readonly onSet: (value: string) => void;
  /** True: taken when it is done, not letter by letter. */
  readonly isLate?: boolean;
}

/** Ask for a text. */
export function TextField({ label, value, onSet, isLate }: TextFieldProps) {
  return (
    <label class="draw-field">
      <span>{label}</span>
      <input
        type="text"
        value={value}
        autocomplete="off"
        spellcheck={false}
        onInput={(event) => {
          if (isLate !== true) onSet(event.currentTarget.value);
        }}
        onChange={(event) => {
          if (isLate === true) onSet(event.currentTarget.value);
        }}
      />
    </label>
  );
}

interface ChoiceFieldProps {
  readonly label: string;
  readonly value: string;
  readonly choices: Readonly<Record<string, string>>;
  readonly onSet: (value: string) => void;
}

/** Ask for one of some words. */
export function ChoiceField({ label, value, choices, onSet }: ChoiceFieldProps) {
  return (
    <label class="draw-field">
      <span>{label}</span>
      <select value={value} onChange={(event) => onSet(event.currentTarget.value)}>
        {Object.entries(choices).map(([key, text]) => (
          <option key={key} value={key}>
            {text}
          </option>
        ))}
      </select>
    </label>
  );
}
