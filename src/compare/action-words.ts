// compare: what can be done to a part between two attempts. Apart from the schemas, which the options of commands do
// without.

/** What can be done to a part, by the words that comparisons and jobs share. */
export const PART_DEEDS = ["replaced", "lifted", "reflowed", "cleaned"] as const;

/** What a comparison knows of: all of it, and anything else that was changed. */
export const ACTION_WORDS = [...PART_DEEDS, "changed"] as const;
export type ActionWord = (typeof ACTION_WORDS)[number];
