/**
 * The program's model, written the plain way: an object a unit, an object an event, jstat for every random number.
 * It follows the rules that example (a) needs (M1, M4, O1–O3, W1–W5, C2–C5) and gathers the main figures, no warranty
 * sweep, no reserve. Outages are valued one by one, so overlapping ones count twice: a few thousandths of the energy.
 */
import type { DelayParameters, UnitParameters } from '../../src/history/parameters.ts'
import { selfUsedPart } from '../../src/ledger/outages/energy-value.ts'
import type { EnergySupply, OptionTerms, UnitTerms } from '../../src/ledger/terms.ts'
import type { OptionPlan } from '../../src/simulation/option-plan.ts'
import type { OptionSet } from '../../src/simulation/option-set.ts'
import { type ParameterSet, parameterSetsOf } from '../../src/simulation/parameter-sets.ts'
import { type Prepared, planOf } from '../../src/simulation/run.ts'
import { sampler } from './sampler.ts'

/** Means over the draws; present values. */
export interface PlainMeans {
  failures: number
  visits: number
  repairs: number
  energy: number
  /** Standard error of repairs and energy together. */
  standardError: number
}

interface Unit {
  readonly parameters: UnitParameters
  readonly terms: UnitTerms
  lifeTimes: number
  fittedAt: number
  partsEnd: number
  labourEnd: number
  failure: Failure | null
}

interface Failure {
  readonly unit: Unit
  readonly failedAt: number
  readonly score: number
  detectAt: number
  detected: boolean
  granted: boolean
  claimed: boolean
  labourCovered: boolean
}

interface Event {
  readonly at: number
  readonly kind: 'fails' | 'detected' | 'waited' | 'arrives' | 'returns'
  readonly unit: Unit | null
  readonly failure: Failure | null
}

/**
 * Plays draws of one option the plain way.
 *
 * @param prepared - the run
 * @param option - which option
 * @param draws - how many
 */
export function plainMeans(prepared: Prepared, option: number, draws: number): PlainMeans {
  const plan = planOf(prepared, option)
  const sets = parameterSetsOf(prepared.scenario, prepared.seed, prepared.points)
  const totals: number[] = []
  const means: PlainMeans = { failures: 0, visits: 0, repairs: 0, energy: 0, standardError: 0 }
  for (let draw = 0; draw < draws; ) {
    const ofBlock: readonly ParameterSet[] = sets.ofBlock(Math.floor(draw / 1000), 50)
    for (const parameterSet of ofBlock) {
      const set = plan.at(parameterSet)
      for (let i = 0; i < 1000 / ofBlock.length && draw < draws; i++, draw++) {
        const life = new Lifetime(plan, set)
        life.play()
        means.failures += life.failures / draws
        means.visits += life.visits / draws
        means.repairs += life.repairs / draws
        means.energy += life.energy / draws
        totals.push(life.repairs + life.energy)
      }
    }
  }
  totals.sort((a, b) => a - b) // as the percentiles of a report need them
  const mean = totals.reduce((sum, total) => sum + total, 0) / draws
  const squares = totals.reduce((sum, total) => sum + (total - mean) ** 2, 0)
  means.standardError = Math.sqrt(squares / draws / draws)
  return means
}

class Lifetime {
  failures = 0
  visits = 0
  repairs = 0
  energy = 0
  readonly cashByYear: number[] = []
  private readonly supply: EnergySupply
  private readonly terms: OptionTerms
  private readonly units: Unit[] = []
  private readonly set: OptionSet
  private events: Event[] = []
  private list: Failure[] = []
  private onItsWay = false
  private readonly partsExits: number[]
  private readonly labourExits: number[]

  constructor(plan: OptionPlan, set: OptionSet) {
    this.supply = plan.supply
    this.terms = set.terms
    this.set = set
    this.partsExits = this.exits(set.partsExitRate)
    this.labourExits = this.exits(set.labourExitRate)
  }

  play(): void {
    const { parameters, terms, models } = this.set
    for (const each of parameters.units) {
      const ofUnit = terms.units[each.place]
      if (ofUnit === undefined) continue
      const struck = sampler.uniform.sample(0, 1) < (models[each.model]?.batchChance ?? 0)
      for (let i = 0; i < each.count; i++) {
        const hit = struck && each.batch !== null && sampler.uniform.sample(0, 1) < each.batch.affects
        const unit: Unit = {
          parameters: each,
          terms: ofUnit,
          lifeTimes: hit ? (each.batch?.lifeTimes ?? 1) : 1,
          fittedAt: 0,
          partsEnd: ofUnit.cover.years,
          labourEnd: ofUnit.cover.labourYears,
          failure: null,
        }
        this.units.push(unit)
        this.put(life(unit), 'fails', unit, null)
      }
    }
    for (let next = this.take(); next !== undefined && next.at < parameters.horizonYears; next = this.take()) {
      this.happen(next)
    }
    // units still down at the horizon
    for (const { failure } of this.units) if (failure !== null) this.lose(failure, parameters.horizonYears)
  }

  private happen({ at, kind, unit, failure }: Event): void {
    if (kind === 'fails' && unit !== null) this.fail(at, unit)
    else if (kind === 'detected' && failure !== null && !failure.detected && failure.detectAt === at) {
      if (failure.unit.failure === failure) this.detect(at, failure)
    } else if (kind === 'waited' && !this.onItsWay && failure !== null && this.list[0] === failure) {
      this.call(at, failure)
    } else if (kind === 'arrives') this.arrive(at)
  }

  private fail(at: number, unit: Unit): void {
    this.failures++
    const failure: Failure = {
      unit,
      failedAt: at,
      score: sampler.normal.sample(0, 1),
      detectAt: at,
      detected: false,
      granted: false,
      claimed: false,
      labourCovered: false,
    }
    unit.failure = failure
    const { detect, detectUnmonitored, isGateway } = unit.parameters
    const seen = isGateway || this.monitored()
    const delay = seen ? detect : detectUnmonitored
    failure.detectAt = at + delay.medianYears * Math.exp((delay.factors?.sigma ?? 0) * failure.score)
    this.put(failure.detectAt, 'detected', null, failure)
  }

  private monitored(): boolean {
    if (this.set.parameters.monitoring !== 'gateways') return this.set.parameters.monitoring === 'always'
    return this.units.some(unit => unit.parameters.isGateway && unit.failure === null)
  }

  private detect(at: number, failure: Failure): void {
    const { parameters, terms } = failure.unit
    failure.detected = true
    this.claim(at, failure)
    const policy = this.set.parameters.visitPolicy
    if (policy === null || !parameters.needsVisit) {
      const returnAt = at + delay(parameters.respond) + delay(parameters.repair)
      this.visit(returnAt, [failure], terms.needsVisit)
      return
    }
    if (parameters.count === 1) {
      if (!this.onItsWay) this.call(at, failure)
      return
    }
    this.list.push(failure)
    if (this.onItsWay) return
    if (this.list.length >= policy.waitForUnits) this.call(at, failure)
    else this.put(at + policy.waitAtMostYears, 'waited', null, failure)
  }

  private claim(at: number, failure: Failure): void {
    const { unit } = failure
    const { cover } = unit.terms
    failure.claimed = at < unit.partsEnd && !this.left(this.partsExits, unit.fittedAt, at)
    failure.granted = failure.claimed && sampler.uniform.sample(0, 1) < cover.claimSuccess
    failure.labourCovered = at < unit.labourEnd && !this.left(this.labourExits, unit.fittedAt, at)
  }

  private call(at: number, failure: Failure): void {
    this.onItsWay = true
    this.put(at + delay(failure.unit.parameters.respond), 'arrives', null, null)
  }

  private arrive(at: number): void {
    this.onItsWay = false
    this.list = []
    const found = this.units.flatMap(({ failure, parameters }) =>
      failure !== null && parameters.needsVisit ? [failure] : [],
    )
    let longest = 0
    for (const failure of found) {
      if (!failure.detected) this.claim(at, failure)
      failure.detected = true
      longest = Math.max(longest, delay(failure.unit.parameters.repair))
    }
    this.visit(at + longest, found, true)
  }

  /** Everything of a visit is paid at the return. */
  private visit(returnAt: number, failures: readonly Failure[], travels: boolean): void {
    const { horizonYears, discount: discounting, labourGrowth } = this.terms
    if (failures.length === 0) return
    const paid = returnAt <= horizonYears
    const discount = Math.exp(discounting.rate * returnAt)
    const labourGrown = Math.exp(labourGrowth.rate * returnAt)
    const largest = failures.reduce(
      (most, { unit }) => (unit.terms.labour > most.terms.labour ? unit : most),
      first(failures).unit,
    )
    const labour =
      largest.terms.labour +
      failures.reduce((sum, { unit }) => sum + (unit === largest ? 0 : unit.terms.labourEachFurther), 0)
    let cost = 0
    for (const failure of failures) {
      const { unit } = failure
      const { cover, parts, partsGrowth } = unit.terms
      cost += parts * Math.exp(partsGrowth.rate * returnAt) * (failure.granted ? 1 - cover.partsShare : 1)
      if (travels)
        cost += (labour / failures.length) * labourGrown * (failure.labourCovered ? 1 - cover.labourShare : 1)
      this.lose(failure, returnAt)
      this.renew(failure, returnAt)
    }
    if (travels && paid) {
      this.visits++
      const free = failures.every(({ unit, labourCovered }) => labourCovered && unit.terms.cover.visitsCovered)
      const roof = failures.some(({ unit }) => unit.terms.onRoof) ? this.terms.roofAccess : 0
      if (!free) cost += (this.terms.callOut + roof) * labourGrown
    }
    if (!paid) return
    this.repairs += cost * discount
    const year = Math.min(Math.floor(returnAt), horizonYears - 1)
    this.cashByYear[year] = (this.cashByYear[year] ?? 0) + cost
  }

  private renew({ unit, granted }: Failure, at: number): void {
    const { cover } = unit.terms
    unit.failure = null
    unit.lifeTimes = 1
    unit.fittedAt = at
    if (cover.replacementCover === 'renewed' || (cover.replacementCover === 'new-if-bought' && !granted)) {
      unit.partsEnd = at + cover.years
      unit.labourEnd = at + cover.labourYears
    }
    this.put(at + life(unit), 'fails', unit, null)
  }

  private lose(failure: Failure, returnAt: number): void {
    const { unit } = failure
    const { energy, discount, horizonYears } = this.terms
    if (unit.terms.role === 'nothing') return
    const share = unit.terms.unitShare
    const to = Math.min(returnAt + (failure.claimed ? unit.terms.claimYears : 0), horizonYears)
    const { monthStart, deliverableKwh } = this.supply
    for (let month = 0; month < 12 * horizonYears; month++) {
      const year = Math.floor(month / 12)
      const starts = year + (monthStart[month % 12] ?? 0)
      const ends = year + (monthStart[(month % 12) + 1] ?? 1)
      const from = Math.max(starts, failure.failedAt)
      const until = Math.min(ends, to)
      if (until <= from) continue
      const kwh = ((deliverableKwh[month] ?? 0) * share * (until - from)) / (ends - starts)
      const selfUsed = selfUsedPart(energy.selfConsumed[month % 12] ?? 0, share)
      const at = (from + until) / 2
      this.energy +=
        kwh * selfUsed * energy.importPrice * Math.exp((energy.importGrowth.rate + discount.rate) * at) +
        kwh * (1 - selfUsed) * energy.exportPrice * Math.exp((energy.exportGrowth.rate + discount.rate) * at)
    }
  }

  private exits(rate: number): number[] {
    const exits: number[] = []
    for (let at = 0; rate > 0 && at <= this.set.parameters.horizonYears; exits.push(at))
      at += sampler.exponential.sample(rate)
    return exits
  }

  private left(exits: readonly number[], fittedAt: number, at: number): boolean {
    return exits.some(exit => exit > fittedAt && exit <= at)
  }

  private put(at: number, kind: Event['kind'], unit: Unit | null, failure: Failure | null): void {
    if (at < this.set.parameters.horizonYears) this.events.push({ at, kind, unit, failure })
  }

  private take(): Event | undefined {
    this.events.sort((a, b) => b.at - a.at)
    return this.events.pop()
  }
}

/** The earliest of the modes; a susceptible share of a mode is hit or spared first (M1, M4). */
function life({ parameters, lifeTimes }: Unit): number {
  let earliest = Infinity
  const { multiplier } = parameters
  for (const { susceptible, shape, lifeYears } of parameters.modes) {
    let at: number
    if (susceptible === 1) {
      at = sampler.weibull.sample(lifeYears * multiplier ** (-1 / shape), shape)
    } else {
      const alive = (sampler.uniform.sample(0, 1) ** (1 / multiplier) - (1 - susceptible)) / susceptible
      at = alive <= 0 ? Infinity : lifeYears * (-Math.log(alive)) ** (1 / shape)
    }
    earliest = Math.min(earliest, at)
  }
  return earliest * lifeTimes
}

function delay({ medianYears, factors }: DelayParameters): number {
  return factors === null ? medianYears : medianYears * Math.exp(factors.sigma * sampler.normal.sample(0, 1))
}

function first<T>(list: readonly T[]): T {
  const [one] = list
  if (one === undefined) throw new RangeError('the list is empty')
  return one
}
