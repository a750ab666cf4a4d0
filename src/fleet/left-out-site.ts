/** A site left out, as the report lists it. */
export interface LeftOutSite {
  readonly id: string
  readonly line: number | null
  readonly reason: string
}
