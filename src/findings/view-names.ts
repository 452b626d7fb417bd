// findings: – → the names of the views of one attempt.

/** The views of one attempt: the one in question, and the one given beside it. A file without schemas, for the page. */
export const VIEW_NAMES = ["primary", "other"] as const;
