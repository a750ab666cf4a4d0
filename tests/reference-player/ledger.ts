/**
 * What one lifetime costs, rule by rule (W1–W5, C1–C6, O1, O4–O7): written to be read, failure by failure and month by
 * month, without tables. It is compared with the program draw by draw.
 */
import type { EnergySupply, OptionTerms, UnitTerms } from '../../src/ledger/terms.ts'
import { cumulativeHazard, type Mode } from '../../src/numerics/lives/competing-risks.ts'
import type { Failure, Visit } from './history.ts'

/** Exits and ends of production of the draw. */
export interface Surroundings {
  readonly partsExits: readonly number[]
  readonly labourExits: readonly number[]
  readonly endOfProduction: readonly number[]
}

/** What a lifetime cost; present values unless the name says otherwise. */
export interface Account {
  parts: number
  surcharges: number
  labour: number
  visits: number
  coveredParts: number
  coveredLabour: number
  coveredVisits: number
  /** Visits of which the owner bears any part, and all (O3). */
  nVisits: number
  nVisitsInAll: number
  outageEnergy: number
  batteryOutage: number
  batteryEarnings: number
  /** Days that it earns, discounted and faded, less those that outages take (O7). */
  batteryDays: number
  lostKwh: number
  lostKwhDiscounted: number
  downYears: number
  backupDownYears: number
  /** Undiscounted, by year. */
  cash: number[]
  /** Present value by year, of payments and of what was lost. */
  presentByYear: number[]
  lostByMonthKwh: number[]
}

/** What the cover does for a failure. */
interface Decision {
  readonly claimed: boolean
  readonly granted: boolean
  readonly labourCovered: boolean
  /** Ends of both clocks of the unit that is in the slot afterwards. */
  readonly partsEnd: number
  readonly labourEnd: number
}

/**
 * Prices one lifetime.
 *
 * @param failures - in order of time
 * @param terms - of the option
 * @param supply - energy of the option
 * @param around - exits and ends of production
 */
export function priceReference(
  failures: readonly Failure[],
  terms: OptionTerms,
  supply: EnergySupply,
  around: Surroundings,
): Account {
  const account = emptyAccount(terms.horizonYears)
  const decisions = new Map<Failure, Decision>()
  for (const failure of failures) decisions.set(failure, decide(failure, terms, around, decisions))
  const decided = (failure: Failure): Decision => decisions.get(failure) ?? NOTHING
  payVisits(failures, terms, decided, account)
  for (const failure of failures) payFailure(failure, terms, around, decided(failure), account)
  loseEnergy(failures, terms, supply, decided, account)
  earnBattery(failures, terms, account)
  return account
}

const NOTHING: Decision = { claimed: false, granted: false, labourCovered: false, partsEnd: 0, labourEnd: 0 }

/** W1–W5. */
function decide(
  failure: Failure,
  terms: OptionTerms,
  around: Surroundings,
  decisions: ReadonlyMap<Failure, Decision>,
): Decision {
  const { cover, ageYears } = unitOf(failure, terms)
  const { detectedAt, fittedAt, returnedAt, planned, repaired } = failure
  const before = failure.before === null ? undefined : decisions.get(failure.before)
  // W2: the clocks of an original unit
  const partsEnd = before?.partsEnd ?? cover.years - ageYears
  const labourEnd = before?.labourEnd ?? cover.labourYears - ageYears
  // W5: gone at the first exit after the fitting
  const exists = (exits: readonly number[]): boolean => (exits.find(exit => exit > fittedAt) ?? Infinity) > detectedAt
  // W1: at detection
  const claimed = !planned && detectedAt < partsEnd && exists(around.partsExits)
  const granted = claimed && failure.claim < cover.claimSuccess
  const labourCovered = !planned && detectedAt < labourEnd && exists(around.labourExits)
  // W3: the clock of the unit that is there afterwards
  const clock = (years: number, end: number): number => {
    if (repaired) return end
    if (cover.replacementCover === 'renewed') return returnedAt + years
    if (cover.replacementCover === 'new-if-bought') return granted ? end : returnedAt + years
    const originalEnd = years - ageYears
    return granted && years > 0 ? Math.max(originalEnd, returnedAt + cover.replacementMinYears) : originalEnd
  }
  return {
    claimed,
    granted,
    labourCovered,
    partsEnd: clock(cover.years, partsEnd),
    labourEnd: clock(cover.labourYears, labourEnd),
  }
}

/** W4: call-out, roof access once; free only if all its units are under labour cover that covers visits. */
function payVisits(
  failures: readonly Failure[],
  terms: OptionTerms,
  decided: (failure: Failure) => Decision,
  account: Account,
): void {
  for (const visit of new Set(failures.flatMap(failure => failure.visit ?? []))) {
    if (visit.returnedAt > terms.horizonYears) continue
    const onRoof = visit.failures.some(failure => unitOf(failure, terms).onRoof)
    const price =
      (terms.callOut + (onRoof ? terms.roofAccess : 0)) * Math.exp(terms.labourGrowth.rate * visit.returnedAt)
    const free = visit.failures.every(
      failure => decided(failure).labourCovered && unitOf(failure, terms).cover.visitsCovered,
    )
    const paid = visit.failures.some(failure => unitOf(failure, terms).cover.labourShare < 1)
    account.nVisitsInAll++
    if (!free || paid) account.nVisits++
    if (free) account.coveredVisits += price * discount(terms, visit.returnedAt)
    else {
      account.visits += price * discount(terms, visit.returnedAt)
      pay(account, terms, visit.returnedAt, price)
    }
  }
}

/** W4, C2–C4, M8, O6: parts, surcharge and the share of the visit's labour, on the return. */
function payFailure(
  failure: Failure,
  terms: OptionTerms,
  around: Surroundings,
  { granted, labourCovered }: Decision,
  account: Account,
): void {
  const at = failure.returnedAt
  if (at > terms.horizonYears) return
  const unit = unitOf(failure, terms)
  const { cover } = unit
  const parts = (failure.repaired ? (unit.repair?.parts ?? 0) : unit.parts) * Math.exp(unit.partsGrowth.rate * at)
  const labour = labourShare(failure.visit, terms) * Math.exp(terms.labourGrowth.rate * at)
  const partsPaid = granted ? parts * (1 - cover.partsShare) : parts
  const labourPaid = labourCovered ? labour * (1 - cover.labourShare) : labour
  const surcharge = surchargeDue(failure, around.endOfProduction[unit.model] ?? Infinity) ? unit.surcharge : 0
  const worth = discount(terms, at)
  account.parts += (partsPaid + surcharge) * worth
  account.surcharges += surcharge * worth
  account.labour += labourPaid * worth
  account.coveredParts += (parts - partsPaid) * worth
  account.coveredLabour += (labour - labourPaid) * worth
  pay(account, terms, at, partsPaid + surcharge + labourPaid)
}

/** W4: the largest labour among the units of the visit plus the further price of each other, split equally. */
function labourShare(visit: Visit | null, terms: OptionTerms): number {
  if (visit === null) return 0
  let largest = -1
  let furtherOfLargest = 0
  let further = 0
  for (const failure of visit.failures) {
    const unit = unitOf(failure, terms)
    const labour = failure.repaired ? (unit.repair?.labour ?? 0) : unit.labour
    further += unit.labourEachFurther
    if (labour > largest) {
      largest = labour
      furtherOfLargest = unit.labourEachFurther
    } else if (labour === largest) furtherOfLargest = Math.max(furtherOfLargest, unit.labourEachFurther)
  }
  return (largest + further - furtherOfLargest) / visit.failures.length
}

/** M8: the first replacement of a slot whose return lies after the end of production. */
function surchargeDue(failure: Failure, end: number): boolean {
  if (failure.repaired || failure.returnedAt <= end) return false
  for (let before = failure.before; before !== null; before = before.before) {
    if (!before.repaired && before.returnedAt > end) return false
  }
  return true
}

/** A spell in which a unit is down. */
interface Window {
  readonly failure: Failure
  readonly from: number
  readonly to: number
}

/** O1: [failure, return + claim days], windows of one slot joined, cut at the horizon. */
function windowsOf(
  failures: readonly Failure[],
  terms: OptionTerms,
  decided: (failure: Failure) => Decision,
): Window[] {
  const ends = new Map<Failure, number>()
  return failures.map(failure => {
    const earlier = failure.before === null ? 0 : (ends.get(failure.before) ?? 0)
    const claimYears = decided(failure).claimed ? unitOf(failure, terms).claimYears : 0
    const from = Math.max(failure.failedAt, earlier)
    const to = Math.max(Math.min(Math.max(failure.returnedAt + claimYears, from), terms.horizonYears), earlier)
    ends.set(failure, to)
    return { failure, from, to }
  })
}

/** T2, C5, O4, O5, O7: between two changes of what is down, month by month. */
function loseEnergy(
  failures: readonly Failure[],
  terms: OptionTerms,
  supply: EnergySupply,
  decided: (failure: Failure) => Decision,
  account: Account,
): void {
  const windows = windowsOf(failures, terms, decided).filter(({ from, to }) => to > from)
  const changes = [...new Set(windows.flatMap(({ from, to }) => [from, to]))].sort((a, b) => a - b)
  changes.forEach((from, i) => {
    const to = changes[i + 1]
    if (to === undefined) return
    const open = windows.filter(window => window.from <= from && window.to >= to).map(({ failure }) => failure)
    const shares = sharesDown(open, terms)
    account.downYears += shares.generation * (to - from)
    account.backupDownYears += shares.backup * (to - from)
    for (let year = Math.floor(from); year < to; year++) {
      supply.calendarMonth.forEach((calendarMonth, month) => {
        const start = Math.max(from, year + (supply.monthStart[month] ?? 0))
        const end = Math.min(to, year + (supply.monthStart[month + 1] ?? 1))
        if (start >= end) return
        const lost = loseMonth(supply, terms, year, month, start, end, shares.generation)
        const worth = discount(terms, (start + end) / 2)
        // what is left of a new battery's value when the spell begins, faded on to its middle
        const left =
          batteryLeft(failures, terms, from) * Math.exp((terms.battery?.fadeRate ?? 0) * ((start + end) / 2 - from))
        const days = shares.battery * left * 365 * (end - start) * worth
        const battery = (terms.battery?.valuePerDay ?? 0) * days
        account.batteryDays -= days
        account.lostKwh += lost.kwh
        account.lostKwhDiscounted += lost.kwh * worth
        account.outageEnergy += lost.value * worth
        account.batteryOutage += battery
        add(account.presentByYear, year, lost.value * worth + battery)
        add(account.lostByMonthKwh, calendarMonth, lost.kwh)
      })
    }
  })
}

function loseMonth(
  supply: EnergySupply,
  terms: OptionTerms,
  year: number,
  month: number,
  from: number,
  to: number,
  share: number,
): { kwh: number; value: number } {
  const { importPrice, exportPrice, importGrowth, exportGrowth, selfConsumed } = terms.energy
  const length = (supply.monthStart[month + 1] ?? 1) - (supply.monthStart[month] ?? 0)
  const given = ((supply.deliverableKwh[12 * year + month] ?? 0) * (to - from)) / length
  const s = selfConsumed[month] ?? 0
  let kwh = given * share
  let selfUsed = kwh * s * (0.7 * s + (1 - 0.7 * s) * share ** 2)
  if (supply.partialLoss !== null) {
    const { shares, lostShare, lostSelfUsedShare } = supply.partialLoss
    const calendarMonth = supply.calendarMonth[month] ?? 0
    const between = (table: Float64Array): number => interpolate(shares, table, calendarMonth * shares.length, share)
    kwh = given * between(lostShare)
    selfUsed = lostSelfUsedShare === null ? Math.min(selfUsed, kwh) : given * between(lostSelfUsedShare)
  }
  const at = (from + to) / 2
  const value =
    selfUsed * importPrice * Math.exp(importGrowth.rate * at) +
    (kwh - selfUsed) * exportPrice * Math.exp(exportGrowth.rate * at)
  return { kwh, value }
}

function interpolate(x: Float64Array, table: Float64Array, first: number, at: number): number {
  const next = Math.max(
    1,
    x.findIndex(value => value >= at),
  )
  const [low, high] = [x[next - 1] ?? 0, x[next] ?? 1]
  const along = (at - low) / (high - low)
  return (table[first + next - 1] ?? 0) * (1 - along) + (table[first + next] ?? 0) * along
}

/** O4, O5, O7: shares of generation, battery value and backup that are gone. */
function sharesDown(
  open: readonly Failure[],
  terms: OptionTerms,
): { generation: number; battery: number; backup: number } {
  const dead = new Set(open.filter(({ takesStringDown }) => takesStringDown).map(({ string }) => string))
  const sum = (role: UnitTerms['role']): number =>
    open
      .filter(failure => unitOf(failure, terms).role === role && !(role === 'panel-level' && dead.has(failure.string)))
      .reduce((total, failure) => total + unitOf(failure, terms).unitShare, 0)
  const strings = [...dead].reduce((total, string) => total + (terms.stringShares[string] ?? 0), 0)
  const central = 1 - Math.min(sum('inverter'), 1)
  const panels = 1 - Math.min(sum('panel-level') + strings, 1)
  const generation = 1 - central * panels
  const { battery } = terms
  if (battery === null) return { generation, battery: 0, backup: 0 }
  // the sun's inverters: central ones, or those on the panels where there are no others
  const sun = central * (terms.units.some(({ role }) => role === 'inverter') ? 1 : panels)
  const works = (1 - Math.min(sum('battery'), 1)) * (1 - Math.min(sum('battery-inverter'), 1))
  return {
    generation,
    battery: 1 - works * (1 - battery.lostWithoutSun * (1 - sun)),
    backup: battery.backup ? 1 - works * (battery.backupNeedsInverter ? sun : 1) : 0,
  }
}

/** O7: from the start to the horizon, whatever fails; each unit fades with its own age. */
function earnBattery(failures: readonly Failure[], terms: OptionTerms, account: Account): void {
  if (terms.battery === null) return
  const { fadeRate, valuePerDay } = terms.battery
  const rate = terms.discount.rate + fadeRate
  const renewals = failures.filter(({ unit, repaired }) => terms.units[unit.place]?.role === 'battery' && !repaired)
  for (let year = 0; year < terms.horizonYears; year++) {
    const changes = [year, ...renewals.map(({ returnedAt }) => returnedAt), year + 1]
      .filter(at => at >= year && at <= year + 1)
      .sort((a, b) => a - b)
    changes.forEach((from, i) => {
      const to = changes[i + 1]
      if (to === undefined) return
      // ∫ of left·e^(fade·(t − from))·e^(discount·t)
      const years = rate === 0 ? to - from : (Math.exp(rate * to) - Math.exp(rate * from)) / rate
      const days = 365 * batteryLeft(failures, terms, from) * Math.exp(-fadeRate * from) * years
      account.batteryDays += days
      account.batteryEarnings += valuePerDay * days
      add(account.presentByYear, year, -valuePerDay * days)
    })
  }
}

/** Share of the value of new batteries that those in place still have (O7); one that is no component is new at the start. */
function batteryLeft(failures: readonly Failure[], terms: OptionTerms, at: number): number {
  const fadeRate = terms.battery?.fadeRate ?? 0
  if (fadeRate === 0) return 1
  let total = 0
  let left = 0
  for (const [place, unit] of terms.units.entries()) {
    if (unit.role !== 'battery') continue
    // by slot: when the unit that is in place came, counted from the start
    const slots = failures.filter(failure => failure.unit.place === place && failure.before === null)
    const ages = slots.map(first => {
      let born = -unit.ageYears
      for (let next: Failure | undefined = first; next !== undefined; next = after(failures, next)) {
        if (!next.repaired && next.returnedAt <= at) born = next.returnedAt
      }
      return at - born
    })
    while (ages.length < unit.count) ages.push(unit.ageYears + at)
    total += unit.count * unit.unitShare
    for (const age of ages) left += unit.unitShare * Math.exp(fadeRate * age)
  }
  return total > 0 ? left / total : Math.exp(fadeRate * at)
}

function after(failures: readonly Failure[], failure: Failure): Failure | undefined {
  return failures.find(({ before }) => before === failure)
}

/** C6: price of the parts at the horizon × mean further life / mean life, of every unit that works then. */
export function residualValue(failures: readonly Failure[], terms: OptionTerms): number {
  const { horizonYears } = terms
  const superseded = new Set(failures.flatMap(({ before }) => before ?? []))
  let value = 0
  for (const [place, unit] of terms.units.entries()) {
    const own = failures.filter(failure => failure.unit.place === place)
    const mean = furtherLife(unit.modes, 0, 0)
    const share = (ageYears: number, cured = 0): number =>
      mean === 0 ? 0 : Math.min(1, furtherLife(unit.modes, ageYears, cured) / mean)
    const untouched = unit.count - own.filter(({ before }) => before === null).length
    let left = untouched * share(unit.ageYears + horizonYears)
    for (const failure of own) {
      if (superseded.has(failure) || failure.returnedAt > horizonYears) continue
      left += share(failure.ageAfter + horizonYears - failure.returnedAt, failure.curedAfter)
    }
    value += left * unit.parts * Math.exp((unit.partsGrowth.rate + terms.discount.rate) * horizonYears)
  }
  return value
}

/** Mean further life, lives followed to 100 years: ∫ S(x)/S(a) dx by five points a panel, panels narrow near a. */
function furtherLife(modes: readonly Mode[], ageYears: number, cured: number): number {
  const lived = cumulativeHazard(modes, ageYears, cured)
  let years = 0
  let width = 1e-6
  for (let from = ageYears; from < 100; from += width) {
    width = Math.min(width * 1.5, 0.25, 100 - from)
    const half = width / 2
    for (const { at, weight } of GAUSS) {
      years += half * weight * Math.exp(lived - cumulativeHazard(modes, from + half * (1 + at), cured))
    }
  }
  return years
}

/** Abramowitz & Stegun (1964), table 25.4. */
const GAUSS = [
  { at: 0, weight: 128 / 225 },
  { at: 0.538469310105683, weight: 0.478628670499366 },
  { at: -0.538469310105683, weight: 0.478628670499366 },
  { at: 0.906179845938664, weight: 0.236926885056189 },
  { at: -0.906179845938664, weight: 0.236926885056189 },
]

function unitOf(failure: Failure, terms: OptionTerms): UnitTerms {
  const unit = terms.units[failure.unit.place]
  if (unit === undefined) throw new RangeError(`no population ${failure.unit.place}`)
  return unit
}

function discount({ discount }: OptionTerms, at: number): number {
  return Math.exp(discount.rate * at)
}

function pay(account: Account, { horizonYears, discount: { rate } }: OptionTerms, at: number, amount: number): void {
  const year = Math.min(Math.floor(at), horizonYears - 1)
  add(account.cash, year, amount)
  add(account.presentByYear, year, amount * Math.exp(rate * at))
}

function add(column: number[], i: number, amount: number): void {
  column[i] = (column[i] ?? 0) + amount
}

function emptyAccount(horizonYears: number): Account {
  return {
    parts: 0,
    surcharges: 0,
    labour: 0,
    visits: 0,
    coveredParts: 0,
    coveredLabour: 0,
    coveredVisits: 0,
    nVisits: 0,
    nVisitsInAll: 0,
    outageEnergy: 0,
    batteryOutage: 0,
    batteryEarnings: 0,
    batteryDays: 0,
    lostKwh: 0,
    lostKwhDiscounted: 0,
    downYears: 0,
    backupDownYears: 0,
    cash: new Array<number>(horizonYears).fill(0),
    presentByYear: new Array<number>(horizonYears).fill(0),
    lostByMonthKwh: new Array<number>(12).fill(0),
  }
}
