/** Keys of an object in their order, each with the key order of its value; `true`: a plain value, or a list of them. */
export type KeyOrder<T> = T extends readonly (infer Item)[]
  ? KeyOrder<NonNullable<Item>>
  : T extends object
    ? { readonly [Key in keyof T]-?: KeyOrder<NonNullable<T[Key]>> }
    : true
