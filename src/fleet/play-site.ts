import { PLANNED } from '../history/history.ts'
import { allOf, Lifetimes } from '../history/lifetimes.ts'
import { playDraw } from '../history/play.ts'
import { Accounts } from '../ledger/accounts.ts'
import { priceLifetimes } from '../ledger/price-lifetimes.ts'
import type { OptionTerms } from '../ledger/terms.ts'
import { type StreamKey, streamKey } from '../numerics/streams.ts'
import type { ReserveFactors } from '../simulation/reserve-need.ts'
import { type ClassPlay, hazardsAt } from './class-play.ts'
import { hundredths, wholeHalfEven } from './hundredths.ts'
import type { ReadSite } from './site-reader.ts'
import type { SiteRecorder } from './site-recorder.ts'

const lifetimes = new Lifetimes()

/**
 * Streams of the units of a site: they depend on the seed and the site's id alone (F2).
 *
 * @param seed - of the run
 * @param id - of the site
 * @param place - of the population in the option
 */
export function siteKey(seed: number, id: string, place: number): StreamKey {
  return streamKey(seed, JSON.stringify(['site', id, 'component', place]))
}

/**
 * Plays every draw of a site, whatever stands on its roof.
 *
 * @param site - as read
 * @param play - its class
 * @param seed - of the run
 * @param reserve - factors of the reserve of one site
 * @param recorder - begun for the site
 * @param slot - of the site in the recorder
 */
export function playSite(
  site: ReadSite,
  play: ClassPlay,
  seed: number,
  reserve: ReserveFactors,
  recorder: SiteRecorder,
  slot: number,
): void {
  const { horizonYears } = play.siteClass.scenario
  const { ages } = site
  const keys = ages.map((_, place) => siteKey(seed, site.ticket.id, place))
  const supply = play.supplyOf(site.energyFactor)
  const accounts = new Accounts(horizonYears)
  const { history } = lifetimes
  const cash = new Float64Array(horizonYears)
  const struck = play.fates.map(() => false)
  play.sets.forEach((set, draw) => {
    lifetimes.clear()
    const chance = lifetimes.begin(struck.length)
    play.fates.forEach((fate, model) => {
      struck[model] = fate?.struck[draw] === 1
      chance.endOfProduction[model] = fate?.endOfProduction[draw] ?? Infinity
    })
    for (const exit of play.partsExits[draw] ?? []) chance.partsExits.push(exit)
    for (const exit of play.labourExits[draw] ?? []) chance.labourExits.push(exit)
    const units = set.truth.units.map((unit, place) => {
      const ageYears = ages[place] ?? 0
      const key = keys[place] ?? unit.key
      return { ...unit, key, ageYears, ...hazardsAt(unit, ageYears, horizonYears) }
    })
    const terms: OptionTerms = {
      ...set.terms,
      units: set.terms.units.map((unit, place) => ({ ...unit, ageYears: ages[place] ?? 0 })),
    }
    playDraw({ ...set.truth, units }, draw, struck, history)
    lifetimes.end()
    priceLifetimes(allOf(lifetimes), terms, supply, accounts)
    for (let row = 0; row < history.nFailures; row++) {
      if (history.action[row] === PLANNED) continue
      recorder.fail(slot, draw, Math.floor(history.failedAt[row] ?? 0), (history.before[row] ?? -1) < 0)
    }
    for (let visit = 0; visit < history.nVisits; visit++) {
      const returned = history.visitReturn[visit] ?? Infinity
      if (returned <= horizonYears) recorder.visit(draw, Math.min(Math.floor(returned), horizonYears - 1))
    }
    let total = 0
    for (let year = 0; year < horizonYears; year++) {
      const cents = hundredths((accounts.cash[year] ?? 0) + terms.yearlyCost)
      cash[year] = cents / 100
      if (cents === 0) continue
      total += cents
      recorder.pay(slot, draw, year, cents)
    }
    recorder.endDraw(slot, draw, total, reserve.need(cash), wholeHalfEven((accounts.lostKwh[0] ?? 0) * 1000))
  })
}
