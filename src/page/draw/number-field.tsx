// page: a number and its unit → a field that takes comma and point, and steps by arrow keys.
import { useRef, useState } from "preact/hooks";
import { readNumber } from "../show/read-number.js";
import { showNumber } from "../state/settings.js";
import { mmText } from "./model/say-shape.js";
import { say } from "./say.js";

interface NumberFieldProps {
  readonly label: string;
  /** Null: empty. */
  readonly value: number | null;
  readonly unit?: string;
  /** Step of the arrow keys; 0: none. */
  readonly step?: number;
  readonly least?: number;
  readonly most?: number;
  /** Set where an empty field means something. */
  readonly onClear?: () => void;
  readonly onSet: (value: number) => void;
  /** True: the label is for screen readers alone, as in a table. */
  readonly isBare?: boolean;
}

/** Ask for a number. It is taken on Enter and on leaving the field; what is none stays, and is said to be none. */
export function NumberField(props: NumberFieldProps) {
  const { label, value, unit, step = 0, least, most, onClear, onSet, isBare } = props;
  const [typed, showTyped] = useState<string | null>(null);
  // What was taken must not be taken again by the blur that follows before the next frame.
  const pending = useRef<string | null>(null);
  const setTyped = (text: string | null): void => {
    pending.current = text;
    showTyped(text);
  };
  const shown = typed ?? (value === null ? "" : showNumber(mmText(value)));
  const number = typed === null ? value : readNumber(typed);
  const isEmpty = typed !== null && typed.trim() === "" && onClear !== undefined;
  const isWrong =
    typed !== null &&
    !isEmpty &&
    (number === null || number < (least ?? number) || number > (most ?? number));

  const take = (): void => {
    if (pending.current === null) return;
    if (isWrong) {
      say(`${label}: expected a number${limitsText(least, most)}`, true);
      return;
    }
    setTyped(null);
    if (isEmpty) onClear?.();
    else if (number !== null && number !== value) onSet(number);
  };
  const keyDown = (event: KeyboardEvent): void => {
    if (event.key === "Enter") {
      take();
      if (!isWrong && event.target instanceof HTMLInputElement) event.target.form?.requestSubmit();
    } else if (event.key === "Escape" && typed !== null) setTyped(null);
    else if (
      (event.key === "ArrowUp" || event.key === "ArrowDown") &&
      step > 0 &&
      number !== null &&
      !isWrong
    ) {
      const by = (event.shiftKey ? step / 10 : step) * (event.key === "ArrowUp" ? 1 : -1);
      setTyped(null);
      const next = Math.round((number + by) * 1e6) / 1e6;
      onSet(Math.min(most ?? next, Math.max(least ?? next, next)));
    } else return;
    event.preventDefault();
    event.stopPropagation();
  };
  return (
    <label class={`draw-field${isBare === true ? " bare" : ""}`}>
      <span class={isBare === true ? "draw-unseen" : ""}>{label}</span>
      <span class="draw-number">
        <input
          type="text"
          inputMode="decimal"
          size={7}
          value={shown}
          aria-invalid={isWrong}
          onInput={(event) => setTyped(event.currentTarget.value)}
          onKeyDown={keyDown}
          onBlur={take}
        />
        {unit !== undefined && <span class="draw-unit">{unit}</span>}
      </span>
    </label>
  );
}

function limitsText(least: number | undefined, most: number | undefined): string {
  if (least === undefined) return "";
  return most === undefined ? ` of ${least} or more` : ` from ${least} to ${most}`;
}
