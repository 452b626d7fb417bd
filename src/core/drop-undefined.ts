// core: an object whose keys may be set to undefined → the same without these keys, as JSON and exact types want it.

type Defined<T> = { [Key in keyof T]?: Exclude<T[Key], undefined> };

/** Leave out the keys whose value is undefined. */
export function dropUndefined<T extends object>(value: T): Defined<T> {
  return Object.fromEntries(Object.entries(value).filter(([, one]) => one !== undefined)) as Defined<T>;
}
