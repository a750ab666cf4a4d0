/**
 * The workloads the way a C programmer would write them: nested loops over numbers, no objects, no tables but that of
 * the energy, every unit drawn by log and pow. It does less than the program: no cover but a calendar warranty, no
 * visits shared, no parameter sets, no figures but cost, energy and cash by year.
 */
import { type HOUSEHOLD, OPTIONS, type Population, populations, SITE } from './workloads.ts'

/** Mean number of failures by option, and the sum of all costs, so that no work is optimised away. */
export interface StraightResult {
  readonly failures: readonly number[]
  readonly cost: number
}

/**
 * Plays a workload.
 *
 * @param size - HOUSEHOLD or COMMERCIAL
 * @param draws - for each of the five options
 */
export function straightLoop(size: typeof HOUSEHOLD, draws: number): StraightResult {
  const all = populations(size.units, size.central)
  const value = cumulativeValue(size.energyFactor)
  let cost = 0
  const totals = new Float64Array(draws)
  const cash = new Float64Array(SITE.horizonYears * draws)
  const failures = OPTIONS.map(names => {
    totals.fill(0)
    cash.fill(0)
    let count = 0
    for (const name of names) count += play(all[name], value, totals, cash)
    totals.sort()
    cost += totals.reduce((sum, total) => sum + total, 0)
    return count / draws
  })
  return { failures, cost }
}

function play(population: Population, value: Float64Array, totals: Float64Array, cash: Float64Array): number {
  const draws = totals.length
  const horizon = SITE.horizonYears
  const { count, modes, parts, labour, warrantyYears, share, detect, respond } = population
  const logDiscount = Math.log(1 + SITE.discount)
  const logParts = Math.log(1 + SITE.partsGrowth)
  const logLabour = Math.log(1 + SITE.labourGrowth)
  let failures = 0
  for (let draw = 0; draw < draws; draw++) {
    let total = 0
    for (let unit = 0; unit < count; unit++) {
      let at = life(modes)
      while (at < horizon) {
        failures++
        const back = at + delay(detect) + delay(respond)
        const until = Math.min(back, horizon)
        total += share * (valueAt(value, until) - valueAt(value, at))
        if (back < horizon) {
          const bill =
            labour * Math.exp(logLabour * back) + (at >= warrantyYears ? parts * Math.exp(logParts * back) : 0)
          total += bill * Math.exp(-logDiscount * back)
          const year = Math.floor(back)
          cash[year * draws + draw] = (cash[year * draws + draw] ?? 0) + bill
        }
        at = back + life(modes)
      }
    }
    totals[draw] = (totals[draw] ?? 0) + total
  }
  return failures
}

function life(modes: Population['modes']): number {
  let earliest = Infinity
  for (let i = 0; i < modes.length; i++) {
    const mode = modes[i]
    if (mode === undefined) continue
    const at = mode[1] * (-Math.log(random())) ** (1 / mode[0])
    if (at < earliest) earliest = at
  }
  return earliest
}

function delay([median, sigma]: readonly [number, number]): number {
  const normal = Math.sqrt(-2 * Math.log(random())) * Math.cos(2 * Math.PI * random())
  return (median / 365) * Math.exp(sigma * normal)
}

let state = 0x9e3779b9
/** xorshift of 32 bits; (0, 1). */
function random(): number {
  state ^= state << 13
  state ^= state >>> 17
  state ^= state << 5
  return ((state >>> 0) + 0.5) / 4294967296
}

/**
 * Discounted value of all energy up to each month's end.
 *
 * @param energyFactor - of the workload
 */
export function cumulativeValue(energyFactor: number): Float64Array {
  const months = 12 * SITE.horizonYears
  const value = new Float64Array(months + 1)
  for (let month = 0; month < months; month++) {
    const at = (month + 0.5) / 12
    const kwh =
      SITE.annualKwh * energyFactor * (SITE.shares[month % 12] ?? 0) * (1 - SITE.degradation) ** Math.floor(month / 12)
    value[month + 1] = (value[month] ?? 0) + kwh * SITE.tariff * ((1 + SITE.tariffGrowth) / (1 + SITE.discount)) ** at
  }
  return value
}

function valueAt(value: Float64Array, years: number): number {
  const place = 12 * years
  const month = Math.min(Math.floor(place), value.length - 2)
  const low = value[month] ?? 0
  return low + (place - month) * ((value[month + 1] ?? 0) - low)
}
