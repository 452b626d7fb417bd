// core: a table of defaults → the options a caller may give, any of them, of the same kind.

type Widened<T> = T extends number ? number : T extends boolean ? boolean : T extends string ? string : T;

/** Options that go with a frozen table of defaults: every one may be left out, and takes any value of its kind. */
export type OptionsOf<Defaults> = { readonly [Name in keyof Defaults]?: Widened<Defaults[Name]> };
/** The same with all defaults filled in. */
export type ResolvedOptions<Defaults> = { readonly [Name in keyof Defaults]: Widened<Defaults[Name]> };
