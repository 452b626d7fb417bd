// page: some words and which of them holds → a field to choose one.

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
