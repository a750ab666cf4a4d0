import { drawFirstFailures, type FirstFailure } from '../history/first-failures.ts'
import { originalLabourEnd, originalPartsEnd, providerExists, replacementEnd } from '../ledger/cover.ts'
import type { CoverTerms, UnitTerms } from '../ledger/terms.ts'
import type { AgeTable } from '../numerics/age-table.ts'
import { normalScore } from '../numerics/normal-scores.ts'
import { ReusableStream } from '../numerics/streams.ts'
import type { ReserveFactors } from '../simulation/reserve-need.ts'
import { MONTHS_PER_YEAR } from '../units.ts'
import { type ClassPlay, hazardsAt } from './class-play.ts'
import { hundredths, wholeHalfEven } from './hundredths.ts'
import { siteKey } from './play-site.ts'
import { AT, ROW, unitRows } from './single-unit.ts'
import type { ReadSite } from './site-reader.ts'
import type { SiteRecorder } from './site-recorder.ts'

const stream = new ReusableStream()
const firsts: FirstFailure[] = []

/**
 * Plays homes with one inverter each. The same rules, streams and sums as `playSite`, to the last bit (a test holds one
 * against the other), without the memory that many units, visits and months need.
 */
export class SingleUnitPlayer {
  readonly #play: ClassPlay
  readonly #seed: number
  readonly #reserve: ReserveFactors
  readonly #rows: Float64Array
  readonly #ages: readonly AgeTable[]
  readonly #price: UnitTerms
  readonly #cover: CoverTerms
  readonly #claimYears: number
  /** Ends of the covers of the site's original unit (W2). */
  #firstParts = 0
  #firstLabour = 0
  readonly #lostShare: number
  /** Hazards of the age asked last, by draw: at the start, at the horizon. */
  #hazardsFor = Number.NaN
  readonly #start: Float64Array
  readonly #end: Float64Array
  // payments of one draw in order of time
  #paid = 0
  #years = new Int32Array(64)
  #visits = new Float64Array(64)
  #repairs = new Float64Array(64)
  #lostKwh = 0
  readonly #cash: Float64Array

  /**
   * @param play - class that `isSingleUnit` holds for
   * @param seed - of the run
   * @param reserve - factors of the reserve of one site
   */
  constructor(play: ClassPlay, seed: number, reserve: ReserveFactors) {
    const [first] = play.sets
    const price = first?.terms.units[0]
    if (price === undefined) throw new RangeError('no unit')
    this.#play = play
    this.#seed = seed
    this.#reserve = reserve
    this.#rows = unitRows(play)
    this.#ages = play.sets.map(set => set.truth.units[0]?.ages as AgeTable) // one unit, see above
    this.#price = price
    this.#cover = price.cover
    this.#claimYears = price.claimYears
    this.#lostShare = Math.min(1, 1 - (1 - Math.min(price.unitShare, 1)))
    this.#start = new Float64Array(play.sets.length)
    this.#end = new Float64Array(play.sets.length)
    this.#cash = new Float64Array(play.siteClass.scenario.horizonYears)
  }

  /**
   * Plays every draw of a site.
   *
   * @param site - of the class
   * @param recorder - begun for the site
   */
  play(site: ReadSite, recorder: SiteRecorder): void {
    const play = this.#play
    const { horizonYears } = play.siteClass.scenario
    const ageYears = site.ages[0] ?? 0
    const key = siteKey(this.#seed, site.ticket.id, 0)
    this.#takeAge(ageYears)
    this.#firstParts = originalPartsEnd({ ...this.#price, ageYears })
    this.#firstLabour = originalLabourEnd({ ...this.#price, ageYears })
    const struck = play.fates[play.sets[0]?.truth.units[0]?.model ?? 0]?.struck
    for (let draw = 0; draw < this.#ages.length; draw++) {
      const row = draw * ROW
      let at = Infinity
      let hit = 0
      if (struck?.[draw] === 1) {
        const unit = play.sets[draw]?.truth.units[0]
        if (unit === undefined) continue
        const hazards = { hazardAtStart: this.#start[draw] ?? 0, hazardAtHorizon: this.#end[draw] ?? 0 }
        stream.open(key, draw)
        drawFirstFailures({ ...unit, key, ageYears, ...hazards }, true, horizonYears, false, stream, firsts)
        at = firsts[0]?.at ?? Infinity
        hit = firsts[0]?.hit === true ? 1 : 0
      } else {
        const start = this.#start[draw] ?? 0
        const multiplier = this.#rows[row + AT.multiplier] ?? 1
        const exponential = stream.open(key, draw).exponential()
        if (exponential <= multiplier * ((this.#end[draw] ?? 0) - start)) {
          const age = this.#ages[draw]?.at(start + exponential / multiplier) ?? Infinity
          at = Math.min(Math.max(age - ageYears, 0), horizonYears)
        }
      }
      if (at < horizonYears) {
        stream.open(key, draw, 1 + hit)
        this.#live(draw, row, at, site.energyFactor, recorder)
      } else {
        this.#paid = 0
        this.#lostKwh = 0
      }
      this.#enter(draw, this.#rows[row + AT.yearlyCost] ?? 0, recorder)
    }
  }

  /** Every failure of one draw, from the first. */
  #live(draw: number, row: number, firstAt: number, energyFactor: number, recorder: SiteRecorder): void {
    const rows = this.#rows
    const { horizonYears } = this.#play.siteClass.scenario
    const { years, labourYears, partsShare, labourShare, visitsCovered } = this.#cover
    const partsExits = this.#play.partsExits[draw] ?? []
    const labourExits = this.#play.labourExits[draw] ?? []
    const claimYears = this.#claimYears
    const firstParts = this.#firstParts
    const firstLabour = this.#firstLabour
    let partsEnd = firstParts
    let labourEnd = firstLabour
    let fittedAt = 0
    let windowEnd = 0
    let surcharged = false
    let first = true
    let failedAt = firstAt
    this.#paid = 0
    this.#lostKwh = 0
    while (failedAt < horizonYears) {
      const claim = stream.coarse()
      const detect = stream.coarse()
      const respond = stream.coarse()
      const repair = stream.coarse()
      // of the mode and of the string: neither is read here, both are drawn (K1)
      stream.coarse()
      stream.coarse()
      const exponential = stream.exponential()
      const detectedAt = failedAt + delay(rows, row + AT.detectYears, detect)
      const returnedAt =
        detectedAt + delay(rows, row + AT.respondYears, respond) + delay(rows, row + AT.repairYears, repair)
      recorder.fail(draw, Math.floor(failedAt), first)
      const claimed = detectedAt < partsEnd && (partsExits[0] === undefined || exists(partsExits, fittedAt, detectedAt))
      const granted = claimed && claim < (rows[row + AT.claimSuccess] ?? 0)
      const labourCovered = detectedAt < labourEnd && exists(labourExits, fittedAt, detectedAt)
      // down from the failure to the return and a claim's days more, spells joined (O1)
      const start = Math.max(failedAt, windowEnd)
      windowEnd = Math.min(Math.max(returnedAt + (claimed ? claimYears : 0), start), horizonYears)
      if (windowEnd > start) this.#lose(start, windowEnd, energyFactor)
      if (returnedAt > horizonYears) break
      const labourGrown = Math.exp((rows[row + AT.labourLogGrowth] ?? 0) * returnedAt)
      const parts = (rows[row + AT.parts] ?? 0) * Math.exp((rows[row + AT.partsLogGrowth] ?? 0) * returnedAt)
      const labour = (rows[row + AT.labour] ?? 0) * labourGrown
      let repairPaid = granted ? parts * (1 - partsShare) : parts
      if (!surcharged && returnedAt > (rows[row + AT.endOfProduction] ?? Infinity)) {
        surcharged = true
        repairPaid += rows[row + AT.surcharge] ?? 0
      }
      repairPaid += labourCovered ? labour * (1 - labourShare) : labour
      const visitFree = labourCovered && visitsCovered
      const visit = visitFree ? 0 : (rows[row + AT.visit] ?? 0) * labourGrown
      this.#pay(Math.min(Math.floor(returnedAt), horizonYears - 1), visit, repairPaid)
      partsEnd = replacementEnd(this.#cover, years, firstParts, partsEnd, returnedAt, !granted)
      labourEnd = replacementEnd(this.#cover, labourYears, firstLabour, labourEnd, returnedAt, !granted)
      fittedAt = returnedAt
      first = false
      const further = exponential / (rows[row + AT.multiplier] ?? 1)
      if (further > (rows[row + AT.hazardOfHorizon] ?? 0)) break
      failedAt = returnedAt + (this.#ages[draw]?.at(further) ?? Infinity)
    }
  }

  #pay(year: number, visit: number, repair: number): void {
    const place = this.#paid++
    if (place >= this.#years.length) this.#grow()
    this.#years[place] = year
    this.#visits[place] = visit
    this.#repairs[place] = repair
  }

  /** Cash of the draw, year by year: visits before repairs, as the ledger adds them. */
  #enter(draw: number, yearlyCost: number, recorder: SiteRecorder): void {
    const cash = this.#cash
    let total = 0
    if (yearlyCost > 0) {
      const cents = hundredths(yearlyCost)
      cash.fill(cents / 100)
      let next = 0
      for (let year = 0; year < cash.length; year++) {
        let amount = cents
        if (next < this.#paid && this.#years[next] === year) {
          const end = this.#endOfYear(next)
          amount = hundredths(this.#sumOf(next, end) + yearlyCost)
          cash[year] = amount / 100
          next = end
        }
        total += amount
        recorder.pay(draw, year, amount)
      }
    } else {
      for (let place = 0; place < this.#paid; ) {
        const end = this.#endOfYear(place)
        const year = this.#years[place] ?? 0
        const cents = hundredths(this.#sumOf(place, end))
        place = end
        if (cents === 0) continue
        cash[year] = cents / 100
        total += cents
        recorder.pay(draw, year, cents)
      }
    }
    const need = total === 0 ? 0 : this.#reserve.need(cash)
    if (total !== 0) cash.fill(0)
    recorder.endDraw(draw, total, need, this.#lostKwh === 0 ? 0 : wholeHalfEven(this.#lostKwh * 1000))
  }

  /** Place after the last payment in the year of a payment. */
  #endOfYear(place: number): number {
    let end = place + 1
    while (end < this.#paid && this.#years[end] === this.#years[place]) end++
    return end
  }

  #sumOf(from: number, to: number): number {
    let sum = 0
    for (let i = from; i < to; i++) sum += this.#visits[i] ?? 0
    for (let i = from; i < to; i++) sum += this.#repairs[i] ?? 0
    return sum
  }

  /** Energy of an outage, month by month (T2); the sums of the ledger for one unit. */
  #lose(from: number, to: number, energyFactor: number): void {
    const { deliverableKwh, monthStart } = this.#play.plan.supply
    let year = Math.floor(from)
    let month = 0
    while (month < MONTHS_PER_YEAR - 1 && year + (monthStart[month + 1] ?? 1) <= from) month++
    let start = from
    while (start < to) {
      const end = Math.min(to, year + (monthStart[month + 1] ?? 1))
      if (end > start) {
        const length = (monthStart[month + 1] ?? 1) - (monthStart[month] ?? 0)
        const kwh = (deliverableKwh[year * MONTHS_PER_YEAR + month] ?? 0) * energyFactor
        this.#lostKwh += ((kwh * (end - start)) / length) * this.#lostShare
        start = end
      }
      month++
      if (month === MONTHS_PER_YEAR) {
        month = 0
        year++
      }
    }
  }

  #takeAge(ageYears: number): void {
    if (ageYears === this.#hazardsFor) return
    this.#hazardsFor = ageYears
    const { horizonYears } = this.#play.siteClass.scenario
    const own = ageYears === this.#play.siteClass.ages[0]
    this.#play.sets.forEach(({ truth }, draw) => {
      const [unit] = truth.units
      if (unit === undefined) return
      const hazards = own ? unit : hazardsAt(unit, ageYears, horizonYears)
      this.#start[draw] = hazards.hazardAtStart
      this.#end[draw] = hazards.hazardAtHorizon
    })
  }

  #grow(): void {
    const years = new Int32Array(2 * this.#years.length)
    const visits = new Float64Array(years.length)
    const repairs = new Float64Array(years.length)
    years.set(this.#years)
    visits.set(this.#visits)
    repairs.set(this.#repairs)
    this.#years = years
    this.#visits = visits
    this.#repairs = repairs
  }
}

/** As `providerExists`; the usual case, no exit yet, without a loop. */
function exists(exits: readonly number[], fittedAt: number, at: number): boolean {
  const first = exits[0]
  return first === undefined || first > at || providerExists(exits, fittedAt, at)
}

/** A delay at a quantile (O1), from its median and the spread beside it. */
function delay(rows: Float64Array, place: number, quantile: number): number {
  const median = rows[place] ?? 0
  const sigma = rows[place + 1] ?? 0
  return sigma === 0 ? median : median * Math.exp(sigma * normalScore(quantile))
}
