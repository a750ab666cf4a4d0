import { describe, expect, it } from 'vitest'
import { fitRecords } from '../../src/fitting/fit-records.ts'
import { likelihoodOf } from '../../src/fitting/likelihood/likelihood.ts'
import { pool } from '../../src/fitting/likelihood/pool.ts'
import { weibull } from '../../src/fitting/models/weibull.ts'
import { readRecords } from '../../src/fitting/records/read-records.ts'
import { openStream, streamKey } from '../../src/numerics/random/streams.ts'

const N = 1_000_000
const TRUTH = { shape: 2.2, life: 14 }

/** A million rows with ages to four decimals, in chunks as a file gives them; nothing is kept. */
async function* millionRows(): AsyncGenerator<Uint8Array> {
  const stream = openStream(streamKey(1, 'a million rows'), 0)
  let text = 'model,unit,start_age,end_age,outcome,count\n'
  for (let unit = 0; unit < N; unit++) {
    const life = TRUTH.life * stream.exponential() ** (1 / TRUTH.shape)
    const end = 0.5 + 11.5 * stream.coarse()
    text += `m1,u${unit},,${Math.min(life, end).toFixed(4)},${life < end ? 'failed' : 'working'},1\n`
    if (text.length > 200_000) {
      yield Buffer.from(text)
      text = ''
    }
  }
  yield Buffer.from(text)
}

describe('a million rows', () => {
  it('are read, equal ones together, and fitted; the estimate is within four errors of the truth and the heap stays small', async () => {
    const records = await readRecords(millionRows(), {
      file: 'million.csv',
      ageUnit: 'years',
      choice: { named: {}, groupBy: null },
      skipBadRows: false,
      asOfDay: null,
    })
    expect(records.nLines).toBe(N)
    // 115,000 ages of four decimals up to 12 years, failed or working.
    expect(records.groups[0]?.rows.counts.length).toBeLessThan(240_000)
    const result = fitRecords(records, {
      file: 'million.csv',
      tool: { name: 'lifetally', version: '0' },
      ageUnit: 'years',
      seed: 1,
      shape: null,
      prior: null,
      warrantyYears: null,
    })
    const group = result.groups[0]
    expect(group?.units).toBe(N)
    const { shape, characteristicLife } = group?.models[0]?.parameters ?? {}
    expect(Math.abs((shape?.estimate ?? 0) - TRUTH.shape)).toBeLessThan(4 * (shape?.standardError ?? 0))
    expect(Math.abs((characteristicLife?.estimate ?? 0) - TRUTH.life)).toBeLessThan(
      4 * (characteristicLife?.standardError ?? 0),
    )
    // Rounded ages are used by the search only: the likelihood of the exact records is level at the estimate.
    const exact = likelihoodOf(pool(records.groups[0]!.rows), weibull.form('years'))
    const x = [Math.log(shape?.estimate ?? 0), Math.log(characteristicLife?.estimate ?? 0)]
    const errors = [shape, characteristicLife].map((one, i) => (one?.standardError ?? 0) / Math.exp(x[i] ?? 0))
    exact(x).gradient.forEach((slope, i) => {
      expect(Math.abs(slope * (errors[i] ?? 0))).toBeLessThan(1e-3)
    })
    expect(Math.abs(exact(x).value - (group?.models[0]?.logLikelihood ?? 0))).toBeLessThan(1e-6)
    expect(group?.goodness?.pValue).toBeGreaterThan(0.001)
    expect(process.memoryUsage().arrayBuffers).toBeLessThan(400e6)
  })
})
