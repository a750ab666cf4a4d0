/** A word of a quote and what it was taken as, for `check` to show. */
export interface Taken {
  /** Key path as written, with dots, e.g. `options.0.warranty`. */
  readonly key: string
  /** The value as written, short. */
  readonly written: string
  /** What it means, in words or as it would be written in full. */
  readonly as: string
}
