// findings: – → the names of the views of one attempt.

/** The views of one attempt: the one in question, and the one given beside it. A file without schemas, for the page. */
export const VIEW_NAMES = ["primary", "other"] as const;

/** The view that something found was seen in; where one view alone was given, findings name none. */
export function viewOf<Name extends (typeof VIEW_NAMES)[number]>({
  view,
}: {
  readonly view?: Name | undefined;
}): Name | "primary" {
  return view ?? "primary";
}
