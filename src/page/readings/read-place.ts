// page: a place as it is typed → a net, or a part and its pin; a range of pins → one place for each.

/** Where a meter was held. */
export interface TypedPlace {
  readonly net?: string;
  readonly ref?: string;
  readonly pin?: string;
}

/** More pins than this at once are a slip of the hand. */
const MOST_PINS = 400;

/** Read places: `VSYS` is a net; `U6`, `U6 4`, `U6.4` and `U6 pin 4` are a part and its pin where the board has the
 *  part; `J3 1-10` is ten places.
 *  @param refs names of the board's parts. Without a map, what looks like a ref with a pin is taken for one.
 *  @returns empty where nothing was typed.
 */
export function readPlaces(typed: string, refs: readonly string[]): TypedPlace[] {
  const text = typed.trim();
  if (text === "") return [];
  const match = /^(\S+?)(?:(?:\s+pin\s+|\s+|[.:])([A-Za-z]?\d+)(?:\s*[-–…]\s*(\d+))?)?$/i.exec(text);
  if (match === null) return [{ net: text }];
  const [, name = "", pin, last] = match;
  const ref = refs.find((one) => one.toLowerCase() === name.toLowerCase());
  if (ref === undefined && (pin === undefined || refs.length > 0 || !/^[A-Z]{1,3}\d+$/i.test(name))) {
    return [{ net: text }];
  }
  const part = ref ?? name;
  if (pin === undefined) return [{ ref: part }];
  const from = Number(pin);
  const to = Number(last);
  if (last === undefined || !Number.isInteger(from)) return [{ ref: part, pin }];
  if (to < from || to - from >= MOST_PINS) return [];
  return Array.from({ length: to - from + 1 }, (_, i) => ({ ref: part, pin: String(from + i) }));
}

/** Word a place. */
export function placeText({ net, ref, pin }: TypedPlace): string {
  const part = ref === undefined ? "" : pin === undefined ? ref : `${ref} pin ${pin}`;
  return [net ?? "", part].filter((text) => text !== "").join(", ");
}

/** The same place has the same key, however it is written. */
export function keyOf({ net, ref, pin }: TypedPlace): string {
  return [net ?? "", ref ?? "", pin ?? ""].join("\u0000").toLowerCase();
}
