// page: a text → a field for it.

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
