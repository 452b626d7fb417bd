// compare: what can be done to a part between two attempts. Apart from the schemas, which the options of commands do without.

/** What can be done to a part between two attempts. */
export const ACTION_WORDS = ["replaced", "lifted", "reflowed", "cleaned", "changed"] as const;
export type ActionWord = (typeof ACTION_WORDS)[number];
