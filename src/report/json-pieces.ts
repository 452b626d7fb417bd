// report: a result and the form of its kind → the text of its JSON, held against the form first, in pieces.

/** What a result of one kind looks like: of JSON Schema the words that ours need. A form by `anyOf` is its first one,
 *  or null; an object without `properties` holds anything.
 */
export interface ResultForm {
  readonly type?: string;
  readonly const?: string | number | boolean;
  readonly enum?: readonly string[];
  readonly minimum?: number;
  readonly maximum?: number;
  readonly exclusiveMinimum?: number;
  readonly properties?: Readonly<Record<string, ResultForm>>;
  readonly required?: readonly string[];
  readonly items?: ResultForm;
  readonly prefixItems?: readonly ResultForm[];
  readonly anyOf?: readonly ResultForm[];
}

/** A piece is given away as soon as it is so long: of a burst of ten thousand frames the whole would be 6 MB, several
 *  times over. */
const PIECE_LETTERS = 65_536;

interface Misfit {
  readonly path: readonly string[];
  readonly found: string;
}

/** Write a result as JSON: keys in the form's order and no others, two spaces, a last line end.
 *  @param name what it is, for the error: "findings".
 *  @returns the text in pieces, to be taken once, each cut between two values.
 *  @throws Error naming the path, before any piece, if it does not fit the form or holds a number that JSON can't (a
 *  fault of ours).
 */
export function jsonPieces(value: unknown, form: ResultForm, name: string): Iterable<string> {
  const misfit = findMisfit(value, form);
  if (misfit !== null) {
    const path = misfit.path.join(".");
    throw new Error(`what was made as ${name} does not fit its own schema at "${path}": ${misfit.found}`);
  }
  return pieces(value, form);
}

function findMisfit(value: unknown, form: ResultForm): Misfit | null {
  const { anyOf, type } = form;
  if (anyOf !== undefined) return value === null ? null : findMisfit(value, anyOf[0]!);
  if (!isOfType(value, type)) return { path: [], found: `${typeof value} ${value} for ${type}` };
  if (Array.isArray(value)) return misfitInArray(value, form);
  if (typeof value === "object") return misfitInObject(value as Readonly<Record<string, unknown>>, form);
  const { minimum = Number.NEGATIVE_INFINITY, maximum = Number.POSITIVE_INFINITY } = form;
  const fits =
    (form.const === undefined || value === form.const) &&
    (form.enum === undefined || form.enum.includes(value as string)) &&
    (typeof value !== "number" ||
      (value >= minimum && value <= maximum && value > (form.exclusiveMinimum ?? Number.NEGATIVE_INFINITY)));
  return fits ? null : { path: [], found: `${value} is none of its values` };
}

function isOfType(value: unknown, type: string | undefined): boolean {
  if (type === "number") return Number.isFinite(value);
  if (type === "integer") return Number.isSafeInteger(value);
  if (type === "array") return Array.isArray(value);
  if (type === "object") return typeof value === "object" && value !== null && !Array.isArray(value);
  return typeof value === type;
}

function misfitInArray(value: readonly unknown[], { items, prefixItems }: ResultForm): Misfit | null {
  if (prefixItems !== undefined && value.length !== prefixItems.length) {
    return { path: [], found: `${value.length} values for ${prefixItems.length}` };
  }
  for (let i = 0; i < value.length; i++) {
    const misfit = findMisfit(value[i], prefixItems?.[i] ?? items!);
    if (misfit !== null) return { ...misfit, path: [String(i), ...misfit.path] };
  }
  return null;
}

function misfitInObject(
  value: Readonly<Record<string, unknown>>,
  { properties, required }: ResultForm,
): Misfit | null {
  // What has no form of its own, as options: JSON would make null of a number that is none.
  if (properties === undefined) return misfitInside(value);
  for (const key in properties) {
    const item = value[key];
    if (item === undefined && required?.includes(key) !== true) continue;
    const misfit = findMisfit(item, properties[key]!);
    if (misfit !== null) return { ...misfit, path: [key, ...misfit.path] };
  }
  return null;
}

function misfitInside(value: unknown): Misfit | null {
  if (typeof value === "number" && !Number.isFinite(value)) return { path: [], found: `the number ${value}` };
  if (typeof value !== "object" || value === null) return null;
  for (const [key, item] of Object.entries(value)) {
    const misfit = misfitInside(item);
    if (misfit !== null) return { ...misfit, path: [key, ...misfit.path] };
  }
  return null;
}

/** What is written and not yet given away. */
interface Pending {
  text: string;
}

function* pieces(value: unknown, form: ResultForm): Generator<string> {
  const pending: Pending = { text: "" };
  yield* write(value, form, "\n", pending);
  yield `${pending.text}\n`;
}

/** @param line begins a line at the depth of this value. */
function* write(value: unknown, form: ResultForm, line: string, pending: Pending): Generator<string> {
  const { items, prefixItems, properties } = form.anyOf?.[0] ?? form;
  const inner = `${line}  `;
  let comma = "";
  if (Array.isArray(value)) {
    pending.text += "[";
    for (let i = 0; i < value.length; i++) {
      pending.text += comma + inner;
      if (isLeaf(value[i])) pending.text += JSON.stringify(value[i]);
      else yield* write(value[i], prefixItems?.[i] ?? items!, inner, pending);
      comma = ",";
    }
    pending.text += comma === "" ? "]" : `${line}]`;
  } else if (isLeaf(value) || properties === undefined) {
    // Line ends inside of strings are escaped.
    pending.text += JSON.stringify(value, null, 2).replaceAll("\n", line);
  } else {
    pending.text += "{";
    for (const key in properties) {
      const item = (value as Readonly<Record<string, unknown>>)[key];
      if (item === undefined) continue;
      pending.text += `${comma}${inner}"${key}": `;
      if (isLeaf(item)) pending.text += JSON.stringify(item);
      else yield* write(item, properties[key]!, inner, pending);
      comma = ",";
    }
    pending.text += comma === "" ? "}" : `${line}}`;
  }
  if (pending.text.length >= PIECE_LETTERS) {
    yield pending.text;
    pending.text = "";
  }
}

/** Most values, of which a long burst's result has a hundred thousand: they want no generator of their own. */
function isLeaf(value: unknown): boolean {
  return value === null || typeof value !== "object";
}
