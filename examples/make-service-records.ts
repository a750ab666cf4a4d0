/**
 * Draws the invented fleet of service-records.csv. The truth it is drawn from stands in service-records.md.
 *
 *   npx tsx examples/make-service-records.ts
 */
import { writeFileSync } from 'node:fs'
import { openStream, streamKey } from '../src/numerics/random/streams.ts'

const DAY = 86_400_000
const LAST_DAY = Date.UTC(2026, 2, 31) / DAY
const WATCHED_FROM = Date.UTC(2015, 0, 1) / DAY

/** The truth: per model its number of slots, its curve, and what is special. Lives in years of 365 days. */
export const TRUTH = [
  { model: 'wall-a', slots: 420, shape: 2.6, lifeYears: 15, early: 0.04, batch: null, inspected: 0 },
  { model: 'wall-b', slots: 260, shape: 2.6, lifeYears: 11, early: 0, batch: null, inspected: 0 },
  { model: 'roof-c', slots: 640, shape: 1.4, lifeYears: 60, early: 0, batch: 'C-07', inspected: 0.3 },
] as const

const BATCHES = 12
const BAD_BATCH_LIFE_TIMES = 0.3
const EARLY = { shape: 0.7, lifeYears: 1 }

const lines = ['model,unit,batch,in_service,watched_from,failed_after,failed_before,ended,outcome']
for (const truth of TRUTH) {
  const key = streamKey(2026, `service records ${truth.model}`)
  for (let slot = 0; slot < truth.slots; slot++) {
    const stream = openStream(key, slot)
    const unit = `${truth.model}-${String(slot + 1).padStart(4, '0')}`
    const first = Date.UTC(2010, 0, 1) / DAY + Math.floor(stream.uniform() * 14 * 365)
    const batch = `${truth.model.slice(-1).toUpperCase()}-${String(1 + Math.floor(stream.uniform() * BATCHES)).padStart(2, '0')}`
    // Every seventh slot came into the portfolio with its history unknown.
    const takenOver = slot % 7 === 0 && first < WATCHED_FROM
    const inspectedYearly = stream.uniform() < truth.inspected
    let fitted = first
    let original = true
    for (;;) {
      const hit = original && batch === truth.batch
      const wear = truth.lifeYears * (hit ? BAD_BATCH_LIFE_TIMES : 1) * stream.exponential() ** (1 / truth.shape)
      const fault = stream.uniform() < truth.early ? EARLY.lifeYears * stream.exponential() ** (1 / EARLY.shape) : Infinity
      const failed = fitted + Math.max(1, Math.round(365 * Math.min(wear, fault)))
      const watched = takenOver && original ? date(WATCHED_FROM) : ''
      const head = [truth.model, unit, original ? batch : '', date(fitted), watched]
      if (takenOver && original && failed <= WATCHED_FROM) break // gone before anyone wrote it down
      if (failed > LAST_DAY) {
        lines.push([...head, '', '', date(LAST_DAY), 'working'].join(','))
        break
      }
      if (inspectedYearly) {
        const visits = Math.floor((failed - fitted) / 365)
        const after = Math.max(fitted + 365 * visits, takenOver && original ? WATCHED_FROM : 0)
        const before = Math.min(fitted + 365 * (visits + 1), LAST_DAY)
        if (before <= after) break
        lines.push([...head, date(after), date(before), '', 'failed'].join(','))
        fitted = before
      } else {
        lines.push([...head, '', '', date(failed), 'failed'].join(','))
        fitted = failed
      }
      // A replacement goes in some two weeks later.
      fitted += 4 + Math.floor(20 * stream.uniform())
      original = false
      if (fitted >= LAST_DAY) break
    }
  }
}
writeFileSync(new URL('service-records.csv', import.meta.url), `${lines.join('\n')}\n`)

function date(day: number): string {
  return new Date(day * DAY).toISOString().slice(0, 10)
}
