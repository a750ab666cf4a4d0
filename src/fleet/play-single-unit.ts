import { drawFirstFailures, FirstFailures } from '../history/first-failures.ts'
import type { UnitTruth } from '../history/unit-truth.ts'
import {
  claimMade,
  letsVisitBeFree,
  originalLabourEnd,
  originalPartsEnd,
  ownersLabour,
  ownersParts,
  replacementEnd,
} from '../ledger/cover.ts'
import type { CoverTerms, UnitTerms } from '../ledger/terms.ts'
import type { AgeTable } from '../numerics/age-table.ts'
import { Growth } from '../numerics/growth.ts'
import type { LognormalFactors } from '../numerics/lognormal-factors.ts'
import { ReusableStream, type StreamKey } from '../numerics/streams.ts'
import type { ReserveFactors } from '../simulation/reserve-need.ts'
import { MONTHS_PER_YEAR } from '../units.ts'
import { type ClassPlay, hazardsAt } from './class-play.ts'
import { hundredths, wholeHalfEven } from './hundredths.ts'
import { siteKey } from './play-site.ts'
import { AT, detectOf, ROW, unitRows } from './single-unit.ts'
import type { ReadSite } from './site-reader.ts'
import type { SiteRecorder } from './site-recorder.ts'

const stream = new ReusableStream()
const firsts = new FirstFailures()
const NO_GROWTH = new Growth(0)

/** A site of the block at hand. */
interface Home {
  readonly slot: number
  readonly key: StreamKey
  readonly ageYears: number
  readonly energyFactor: number
  /** Ends of the covers of its original unit, years (W2). */
  readonly firstParts: number
  readonly firstLabour: number
}

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
  readonly #labourGrowth: readonly Growth[]
  readonly #partsGrowth: readonly Growth[]
  readonly #price: UnitTerms
  readonly #cover: CoverTerms
  readonly #claimYears: number
  readonly #needsVisit: boolean
  readonly #lostShare: number
  readonly #horizonYears: number
  /** Spread of the delays, the same in every draw; null: fixed. */
  readonly #detect: LognormalFactors | null
  readonly #respond: LognormalFactors | null
  readonly #repair: LognormalFactors | null
  /** Hazards of the age asked last, in the draw at hand: at the start, at the horizon. */
  #hazardsFor = Number.NaN
  #start = 0.5
  #end = 0.5
  // payments of one draw in order of time
  #paid = 0
  #years = new Int32Array(64)
  #visits = new Float64Array(64)
  #repairs = new Float64Array(64)
  #lostKwh = 0.5
  readonly #cash: Float64Array

  /**
   * @param play - class that `isSingleUnit` holds for
   * @param seed - of the run
   * @param reserve - factors of the reserve of one site
   */
  constructor(play: ClassPlay, seed: number, reserve: ReserveFactors) {
    const [first] = play.sets
    const price = first?.terms.units[0]
    const unit = first?.truth.units[0]
    if (first === undefined || price === undefined || unit === undefined) throw new RangeError('no unit')
    this.#play = play
    this.#seed = seed
    this.#reserve = reserve
    this.#rows = unitRows(play)
    this.#ages = play.sets.map(set => set.truth.units[0]?.ages as AgeTable) // one unit, see above
    this.#detect = detectOf(first.truth, unit).factors
    this.#respond = unit.respond.factors
    this.#repair = unit.repair.factors
    this.#labourGrowth = play.sets.map(({ terms }) => terms.labourGrowth)
    this.#partsGrowth = play.sets.map(({ terms }) => terms.units[0]?.partsGrowth ?? NO_GROWTH)
    this.#price = price
    this.#cover = price.cover
    this.#claimYears = price.claimYears
    this.#needsVisit = unit.needsVisit
    this.#lostShare = Math.min(1, 1 - (1 - Math.min(price.unitShare, 1)))
    this.#horizonYears = play.siteClass.scenario.horizonYears
    this.#cash = new Float64Array(this.#horizonYears)
  }

  /**
   * Plays every draw of some sites, draw after draw, so that what a draw holds for all of them stays at hand.
   *
   * @param sites - of the class, at most BLOCK_SITES; those of one age beside one another
   * @param recorder - begun for each, slots in their order
   */
  play(sites: readonly ReadSite[], recorder: SiteRecorder): void {
    const play = this.#play
    const unitOf = (draw: number): UnitTruth | undefined => play.sets[draw]?.truth.units[0]
    const homes = sites.map((site, slot): Home => {
      const ageYears = site.ages[0] ?? 0
      const original = { ...this.#price, ageYears }
      return {
        slot,
        key: siteKey(this.#seed, site.ticket.id, 0),
        ageYears,
        energyFactor: site.energyFactor,
        firstParts: originalPartsEnd(original),
        firstLabour: originalLabourEnd(original),
      }
    })
    const struck = play.fates[unitOf(0)?.model ?? 0]?.struck
    for (let draw = 0; draw < this.#ages.length; draw++) {
      const unit = unitOf(draw)
      const ages = this.#ages[draw]
      if (unit === undefined || ages === undefined) continue
      this.#hazardsFor = Number.NaN
      const hitByBatch = struck?.[draw] === 1
      for (let slot = 0; slot < homes.length; slot++) {
        const home = homes[slot]
        if (home === undefined) continue
        this.#playHome(home, draw, unit, ages, hitByBatch, recorder)
      }
    }
  }

  #playHome(home: Home, draw: number, unit: UnitTruth, ages: AgeTable, struck: boolean, recorder: SiteRecorder): void {
    const { ageYears, key } = home
    const row = draw * ROW
    if (ageYears !== this.#hazardsFor) this.#takeAge(ageYears, unit)
    let at = Infinity
    let hit = 0
    stream.open(key, draw)
    if (struck) {
      const hazards = { hazardAtStart: this.#start, hazardAtHorizon: this.#end }
      drawFirstFailures({ ...unit, key, ageYears, ...hazards }, draw, true, this.#horizonYears, false, stream, firsts)
      at = firsts.n === 0 ? Infinity : (firsts.at[0] ?? Infinity)
      hit = firsts.n === 0 ? 0 : (firsts.hit[0] ?? 0)
    } else {
      const multiplier = this.#rows[row + AT.multiplier] ?? 1
      const exponential = stream.exponential()
      if (exponential <= multiplier * (this.#end - this.#start)) {
        const age = ages.at(this.#start + exponential / multiplier)
        at = Math.min(Math.max(age - ageYears, 0), this.#horizonYears)
      }
    }
    this.#paid = 0
    this.#lostKwh = 0
    if (at < this.#horizonYears) {
      stream.open(key, draw, 1 + hit)
      this.#live(home, draw, at, ages, recorder)
    }
    this.#enter(home.slot, draw, this.#rows[row + AT.yearlyCost] ?? 0, recorder)
  }

  /** Every failure of one draw, from the first. */
  #live(home: Home, draw: number, firstAt: number, ages: AgeTable, recorder: SiteRecorder): void {
    const rows = this.#rows
    const row = draw * ROW
    const horizonYears = this.#horizonYears
    const { slot, firstParts, firstLabour, energyFactor } = home
    const { years, labourYears } = this.#cover
    const partsExits = this.#play.partsExits[draw] ?? []
    const labourExits = this.#play.labourExits[draw] ?? []
    const labourGrowth = this.#labourGrowth[draw] ?? NO_GROWTH
    const partsGrowth = this.#partsGrowth[draw] ?? NO_GROWTH
    const claimYears = this.#claimYears
    let partsEnd = firstParts
    let labourEnd = firstLabour
    let fittedAt = 0
    let windowEnd = 0
    let surcharged = false
    let first = true
    let failedAt = firstAt
    while (failedAt < horizonYears) {
      const claim = stream.coarse()
      const detect = stream.coarse()
      const respond = stream.coarse()
      const repair = stream.coarse()
      // of the mode and of the string: neither is read here, both are drawn (K1)
      stream.coarse()
      stream.coarse()
      const exponential = stream.exponential()
      const detectedAt = failedAt + delay(rows[row + AT.detectYears] ?? 0, this.#detect, detect)
      const returnedAt =
        detectedAt +
        delay(rows[row + AT.respondYears] ?? 0, this.#respond, respond) +
        delay(rows[row + AT.repairYears] ?? 0, this.#repair, repair)
      recorder.fail(slot, draw, Math.floor(failedAt), first)
      const claimed = claimMade(detectedAt, partsEnd, partsExits, fittedAt)
      const granted = claimed && claim < (rows[row + AT.claimSuccess] ?? 0)
      const labourCovered = claimMade(detectedAt, labourEnd, labourExits, fittedAt)
      // down from the failure to the return and a claim's days more, spells joined (O1)
      const start = Math.max(failedAt, windowEnd)
      windowEnd = Math.min(Math.max(returnedAt + (claimed ? claimYears : 0), start), horizonYears)
      if (windowEnd > start) this.#lose(start, windowEnd, energyFactor)
      if (returnedAt > horizonYears) break
      const labourGrown = labourGrowth.at(returnedAt)
      const parts = (rows[row + AT.parts] ?? 0) * partsGrowth.at(returnedAt)
      const labour = (rows[row + AT.labour] ?? 0) * labourGrown
      let repairPaid = ownersParts(this.#cover, parts, granted)
      if (!surcharged && returnedAt > (rows[row + AT.endOfProduction] ?? Infinity)) {
        surcharged = true
        repairPaid += rows[row + AT.surcharge] ?? 0
      }
      repairPaid += ownersLabour(this.#cover, labour, labourCovered)
      const visitFree = letsVisitBeFree(this.#cover, labourCovered)
      const visit = visitFree ? 0 : (rows[row + AT.visit] ?? 0) * labourGrown
      const returnYear = Math.min(Math.floor(returnedAt), horizonYears - 1)
      if (this.#needsVisit) recorder.visit(draw, returnYear)
      this.#pay(returnYear, visit, repairPaid)
      partsEnd = replacementEnd(this.#cover, years, firstParts, partsEnd, returnedAt, !granted)
      labourEnd = replacementEnd(this.#cover, labourYears, firstLabour, labourEnd, returnedAt, !granted)
      fittedAt = returnedAt
      first = false
      const further = exponential / (rows[row + AT.multiplier] ?? 1)
      if (further > (rows[row + AT.hazardOfHorizon] ?? 0)) break
      failedAt = returnedAt + ages.at(further)
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
  #enter(slot: number, draw: number, yearlyCost: number, recorder: SiteRecorder): void {
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
        recorder.pay(slot, draw, year, amount)
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
        recorder.pay(slot, draw, year, cents)
      }
    }
    const need = total === 0 ? 0 : this.#reserve.need(cash)
    if (total !== 0) cash.fill(0)
    recorder.endDraw(slot, draw, total, need, this.#lostKwh === 0 ? 0 : wholeHalfEven(this.#lostKwh * 1000))
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

  #takeAge(ageYears: number, unit: UnitTruth): void {
    this.#hazardsFor = ageYears
    const hazards = ageYears === unit.ageYears ? unit : hazardsAt(unit, ageYears, this.#horizonYears)
    this.#start = hazards.hazardAtStart
    this.#end = hazards.hazardAtHorizon
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

/** A delay at a quantile (O1), as `delayYears` with the median of the draw. */
function delay(medianYears: number, factors: LognormalFactors | null, quantile: number): number {
  return factors === null ? medianYears : medianYears * factors.at(quantile)
}
