// page: a sentence of the import that names an option of the command → the same with the field of the form.

/** Options of `faultglow board import` as its sentences name them, and where the form asks the same. */
const FIELDS: readonly (readonly [RegExp, string])[] = [
  [
    /Give the id of the board's edge with --outline ID, or its size with --outline WxH in mm/g,
    "Say its width and height above, or draw the outline first",
  ],
  [
    /Give the size of each with --size "NAME=WxH", or one for all of them with --default-size WxH, in mm/g,
    "Say “Size of parts that nothing tells” above",
  ],
  [/Give --outline WxH in mm/g, "Say the board's width and height above"],
  [/give it with --outline/g, "draw it, or say its width and height above and import again"],
  [/Say which with --unit/g, "If that is wrong, say “Unit” above and import again"],
  [/Say which with --chip-codes/g, "If that is wrong, say “0402 and 0603 are” above and import again"],
];

/** Put a sentence of the import into the words of the form. */
export function formWords(text: string): string {
  return FIELDS.reduce((said, [option, field]) => said.replace(option, field), text);
}
