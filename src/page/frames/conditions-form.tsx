// page: the conditions of an attempt → fields to type them into.
import { doubtRail } from "../../job/doubt-rail.js";
import { isAsked, NUMBERS, type TypedConditions } from "./conditions.js";

interface ConditionsFormProps {
  /** What was typed before is there; until then nothing can be typed over it. */
  readonly isReady: boolean;
  readonly typed: TypedConditions;
  readonly onChange: (typed: TypedConditions) => void;
  /** How many powered frames there are: with several, their rate is asked for. */
  readonly powered: number;
  /** Nets of the board, to choose the rail from. */
  readonly nets: readonly string[];
}

/** Volts, amps, rail, and what else was so at the bench. */
export function ConditionsForm({ isReady, typed, onChange, powered, nets }: ConditionsFormProps) {
  const text = (
    name: Exclude<keyof TypedConditions, "healthy">,
    label: string,
    hint: string,
    isNumber = false,
  ) => (
    <label class={`field${isNumber ? " narrow" : ""}`}>
      {label}
      <input
        type="text"
        name={name}
        value={typed[name]}
        placeholder={hint}
        autoComplete={"off" as const}
        inputMode={isNumber ? ("decimal" as const) : ("text" as const)}
        {...(name === "rail" ? { list: "rails" } : {})}
        {...(name in NUMBERS ? { "data-words": NUMBERS[name as keyof typeof NUMBERS] } : {})}
        onInput={(event) => onChange({ ...typed, [name]: event.currentTarget.value })}
      />
    </label>
  );
  const asks = (name: keyof TypedConditions): boolean => isAsked(name, typed, powered);
  const rail = typed.rail.trim();
  // While it is typed it is no slip yet.
  const isBegun = nets.some((net) => net.toLowerCase().startsWith(rail.toLowerCase()));
  const meant = rail === "" || isBegun ? null : doubtRail(rail, nets);
  return (
    <fieldset class="conditions" disabled={!isReady}>
      <legend>At the bench</legend>
      {text("volts", NUMBERS.volts, "0.90", true)}
      {text("amps", NUMBERS.amps, "0.25", true)}
      {text("limitA", "Limit, A", "0.50", true)}
      {asks("rateHz") && text("rateHz", NUMBERS.rateHz, "25", true)}
      {asks("afterS") && text("afterS", NUMBERS.afterS, "20", true)}
      {text("rail", "Rail that was fed", "net or line")}
      {meant !== null && (
        <p class="chip warn rail-doubt" role="status">
          No net of the board is called {typed.rail.trim()}.{" "}
          <button type="button" class="link" onClick={() => onChange({ ...typed, rail: meant })}>
            Was {meant} meant?
          </button>
        </p>
      )}
      {text("connected", "Connected", "display, charger")}
      {asks("cycleS") && text("cycleS", "Rhythm of on and off, s", "find", true)}
      {text("remark", "Remark", "")}
      <label class="check">
        <input
          type="checkbox"
          checked={typed.healthy}
          onChange={(event) => onChange({ ...typed, healthy: event.currentTarget.checked })}
        />
        This is a good board, taken to know what is normal
      </label>
      <datalist id="rails">
        {nets.map((net) => (
          <option key={net} value={net} />
        ))}
      </datalist>
    </fieldset>
  );
}
