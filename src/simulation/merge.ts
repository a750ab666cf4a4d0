import type { OptionDraws } from './option-figures.ts'

/**
 * Blocks of one option as one, in order; the sums are added block by block, so the result is the same however the
 * blocks were shared out (N3).
 *
 * @param blocks - in order of their draws
 * @param oneSet - nothing is unknown: the sums of all blocks belong to one parameter set
 */
export function mergeBlocks(blocks: readonly OptionDraws[], oneSet: boolean): OptionDraws {
  const [first] = blocks
  if (first === undefined) throw new RangeError('no draws to merge')
  const draws = blocks.reduce((sum, block) => sum + block.draws, 0)
  const firstDraw: number[] = []
  let played = 0
  for (const block of blocks) {
    firstDraw.push(played)
    played += block.draws
  }
  const byYear = (of: (block: OptionDraws) => Float64Array): Float64Array => summed(blocks.map(of))
  return {
    draws,
    setSums: oneSet ? summed(blocks.map(block => block.setSums)) : joined(blocks.map(block => block.setSums)),
    squares: summed(blocks.map(block => block.squares)),
    lifetimeCost: joined(blocks.map(block => block.lifetimeCost)),
    lostKwh: joined(blocks.map(block => block.lostKwh)),
    need: joined(blocks.map(block => block.need)),
    needInMoney: joined(blocks.map(block => block.needInMoney)),
    largestYear: joined(blocks.map(block => block.largestYear)),
    bill10To15: joined(blocks.map(block => block.bill10To15)),
    payments: {
      draw: joinedDraws(blocks, firstDraw),
      year: joinedYears(blocks),
      amount: joined(blocks.map(block => block.payments.amount)),
    },
    yearlyCost: oneSet ? first.yearlyCost : joined(blocks.map(block => block.yearlyCost)),
    byYear: {
      failures: byYear(block => block.byYear.failures),
      firstFailed: byYear(block => block.byYear.firstFailed),
      cash: byYear(block => block.byYear.cash),
      present: byYear(block => block.byYear.present),
      partsBill: byYear(block => block.byYear.partsBill),
      promised: byYear(block => block.byYear.promised),
      wholeBill: byYear(block => block.byYear.wholeBill),
      paid: byYear(block => block.byYear.paid),
    },
    lostByMonthKwh: byYear(block => block.lostByMonthKwh),
    visitCounts: byYear(block => block.visitCounts),
  }
}

function summed(columns: readonly Float64Array[]): Float64Array {
  const sum = new Float64Array(columns[0]?.length ?? 0)
  for (const column of columns) for (let i = 0; i < sum.length; i++) sum[i] = (sum[i] ?? 0) + (column[i] ?? 0)
  return sum
}

function joined(columns: readonly Float64Array[]): Float64Array {
  const all = new Float64Array(columns.reduce((length, column) => length + column.length, 0))
  let at = 0
  for (const column of columns) {
    all.set(column, at)
    at += column.length
  }
  return all
}

function joinedDraws(blocks: readonly OptionDraws[], firstDraw: readonly number[]): Int32Array {
  const all = new Int32Array(blocks.reduce((length, block) => length + block.payments.draw.length, 0))
  let at = 0
  blocks.forEach((block, i) => {
    const first = firstDraw[i] ?? 0
    for (const draw of block.payments.draw) all[at++] = first + draw
  })
  return all
}

function joinedYears(blocks: readonly OptionDraws[]): Uint8Array {
  const all = new Uint8Array(blocks.reduce((length, block) => length + block.payments.year.length, 0))
  let at = 0
  for (const block of blocks) {
    all.set(block.payments.year, at)
    at += block.payments.year.length
  }
  return all
}
