// page: a rectangle → fields for its place, its size and its turn.
import { LEAST_SIZE_MM } from "./model/move-shape.js";
import type { Rectangle } from "./model/rectangle.js";
import { NumberField } from "./number-field.js";

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
        least={LEAST_SIZE_MM}
        onSet={(widthMm) => onSet({ ...rectangle, widthMm })}
      />
      <NumberField
        label="Height"
        unit="mm"
        value={rectangle.heightMm}
        step={step}
        least={LEAST_SIZE_MM}
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
