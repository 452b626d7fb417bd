// core: words → the same at the beginning of a sentence, or after its beginning.

/** Begin with a capital letter. */
export function capitalised(words: string): string {
  return words.charAt(0).toUpperCase() + words.slice(1);
}

/** Begin with a small letter. */
export function uncapitalised(sentence: string): string {
  return sentence.charAt(0).toLowerCase() + sentence.slice(1);
}
