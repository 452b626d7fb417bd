// page: a value as it was and as it came anew → the new one, made of the old parts wherever they say the same.

/** Keep the parts of an answer that have not changed. What is drawn of a part is then drawn anew only when that part
 *  changes: an attempt that comes must not take the picture of another one from under somebody's pointer.
 *  @param before what was shown so far; not modified.
 *  @param after JSON as the server gave it; not modified.
 *  @returns `before` itself where both say the same. */
export function keepSame<Value>(before: unknown, after: Value): Value {
  if (Object.is(before, after) || !isBranch(before) || !isBranch(after)) return after;
  if (Array.isArray(before) !== Array.isArray(after)) return after;
  const old = before as Readonly<Record<string, unknown>>;
  const now = after as Readonly<Record<string, unknown>>;
  const keys = Object.keys(now);
  let isSame = keys.length === Object.keys(old).length;
  const made = (Array.isArray(after) ? [] : {}) as Record<string, unknown>;
  for (const key of keys) {
    made[key] = keepSame(old[key], now[key]);
    isSame &&= key in old && Object.is(made[key], old[key]);
  }
  return (isSame ? before : made) as Value;
}

function isBranch(value: unknown): value is object {
  return typeof value === "object" && value !== null;
}
