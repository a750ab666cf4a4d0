/** A scenario with one thing wrong, and all that is said of it. */
export interface Malformed {
  readonly name: string
  /** Piece of the plain scenario that is replaced; '' where `to` is the whole file. */
  readonly from: string
  readonly to: string
  /** The whole message, line by line. */
  readonly message: readonly string[]
}
