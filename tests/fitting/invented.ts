import { type Life, type LifeRows, rowsOf } from '../../src/fitting/rows.ts'
import { openStream, streamKey } from '../../src/numerics/random/streams.ts'

/** A mode of an invented truth. */
export interface TrueMode {
  readonly shape: number
  readonly life: number
  readonly share?: number
}

/** Lives drawn from a truth and cut at ages spread evenly between two. */
export function inventedRows(
  seed: number,
  nUnits: number,
  modes: readonly TrueMode[],
  cut: readonly [number, number],
  batchOf?: (unit: number) => number,
): LifeRows {
  const stream = openStream(streamKey(seed, 'invented records'), 0)
  const lives: Life[] = []
  for (let unit = 0; unit < nUnits; unit++) {
    let age = Infinity
    for (const { shape, life, share } of modes) {
      const hit = share === undefined || stream.uniform() < share
      const own = life * stream.exponential() ** (1 / shape)
      if (hit) age = Math.min(age, own)
    }
    const end = cut[0] + (cut[1] - cut[0]) * stream.uniform()
    lives.push({
      afterAge: Math.min(age, end),
      beforeAge: age <= end ? age : Infinity,
      ...(batchOf === undefined ? {} : { batch: batchOf(unit) }),
    })
  }
  return rowsOf(lives)
}
