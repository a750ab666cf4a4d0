/** What is wrong with a row: the column and the words. */
export class RowProblem {
  readonly key: string
  readonly message: string
  constructor(key: string, message: string) {
    this.key = key
    this.message = message
  }
}
