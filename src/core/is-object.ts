// core: any value → whether it is an object with keys, as JSON has them.

/** True for an object that is no list. */
export function isObject(value: unknown): value is Record<string, unknown> {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}
