import { createHash, type Hash } from 'node:crypto'
import { InputError } from '../../errors.ts'
import { nearest } from '../../input/problems.ts'
import { countsSurvivors } from '../../scenario/complete/failure.ts'
import type { Scenario } from '../../scenario/model.ts'
import { type FleetModel, modelAlone } from '../play/fleet-chance.ts'
import type { FleetFrame } from '../play/fleet-frame.ts'
import type { SiteClass } from '../play/site-class.ts'
import { SiteSample } from '../play/site-sample.ts'
import type { ColumnPlan } from './columns.ts'
import { withDecimalSigns } from './decimal-signs.ts'
import type { FleetSource } from './fleet-file.ts'
import { type KnownAges, lookAtAges } from './known-ages.ts'
import { countName, MOST_NAMED, mostFrequent } from './name-counts.ts'
import { nothingToPlay } from './nothing-to-play.ts'
import { Reasons } from './reasons.ts'
import { RepeatedIds } from './repeated-ids.ts'
import { isRead, type LeftOut, type ReadSite, SiteReader } from './site-reader.ts'
import { bytesOfTable, columnsOfTable, stampOfTable, streamSites } from './site-stream.ts'

/** What all sites show before any is played. */
export interface Census {
  readonly frame: FleetFrame
  /** Columns of the table that fill nothing, as the fleet file says. */
  readonly ignoredColumns: readonly string[]
  /** Sites whose age is not known, and the age assumed for them (F7a). */
  readonly unknownAges: { readonly sites: number; readonly takenAs: string }
  /** Whether some units are older than new and do not count as evidence (M2). */
  readonly uncountedSurvivors: boolean
  /** By provider: the scenario of a site whose cover it gives. */
  readonly providerScenarios: ReadonlyMap<string, Scenario>
  /** Names of what sites may buy later, sorted (C8). */
  readonly laterNames: readonly string[]
  /** Changes with the table; see `stampOfTable`. */
  readonly stamp: string
}

/**
 * Reads every site of a fleet once: which can be used, which models and providers they share, how old the survivors are
 * (M2), which sites are picked for comparison (F7). A part needs all of it too.
 *
 * @param source - table or folder
 * @param seed - of the run
 * @param draws - of the fleet
 * @param looked - called at intervals with the number of sites read so far
 * @throws InputError when the table cannot be used, or no site of it
 */
export async function takeCensus(
  source: FleetSource,
  seed: number,
  draws: number,
  looked: (sites: number) => void = () => {},
): Promise<Census> {
  const stamp = await stampOfTable(source)
  const plan = await withDecimalSigns(source, await columnsOfTable(source))
  const ages = await lookAtAges(source, plan)
  const form = formOf(source, plan, ages)
  let repeated: readonly number[] = []
  for (;;) {
    const counted = new Counted(seed, repeated)
    const reader = new SiteReader(form)
    const ids = new RepeatedIds()
    const mark = createHash('sha256')
    if (source.form === 'table') for (const text of source.texts) mark.update(`${text.length} ${text}`)
    for await (const bytes of bytesOfTable(source)) mark.update(bytes)
    for await (const ticket of streamSites(source, plan)) {
      if (source.form === 'folder') mark.update(JSON.stringify([ticket.id, ticket.text]))
      ids.add(ticket.id)
      counted.take(reader.read(ticket))
      if (ticket.index % 1000 === 0) looked(ticket.index)
    }
    const found = repeated.length > 0 ? repeated : await checkSuspects(source, plan, ids.suspects)
    if (found.length > 0 && repeated.length === 0) {
      repeated = found
      continue
    }
    const census = counted.census(source, form, draws, mark)
    refuseUnusedRecords(source, census.frame, counted.leftOut.usual)
    return {
      ...census,
      ignoredColumns: plan?.ignored ?? [],
      unknownAges: { sites: ages.blanks, takenAs: ages.takenAs },
      stamp,
    }
  }
}

/** Refuses records of a model that is on no roof: another name was meant. */
function refuseUnusedRecords(source: FleetSource, { models }: FleetFrame, leftOut: string): void {
  if (source.form === 'folder') return
  const names = models.map(({ name }) => name)
  const problems = [...source.records.keys()].flatMap(model => {
    if (names.includes(model)) return []
    const meant = nearest(model, names)
    const hint =
      meant === null ? `the models of the sites are ${names.slice(0, 20).join(', ')}` : `did you mean "${meant}"?`
    const message = `no site that can be played has the model "${model}"; ${hint}${leftOut}`
    return [{ file: source.file, line: null, column: null, key: 'records', message }]
  })
  if (problems.length > 0) throw new InputError(problems)
}

function formOf(source: FleetSource, plan: ColumnPlan | null, ages: KnownAges): FleetFrame['form'] {
  if (source.form === 'folder') return { form: 'folder', folder: source.file, option: source.option }
  const { template, baseFolder, option, records } = source
  return { form: 'table', template, baseFolder, option, columns: plan?.columns ?? [], ages, records }
}

/**
 * Why the sites of a class do not fit the rest of the fleet: their terms, models or providers are stated differently.
 *
 * @param siteClass - the class
 * @param agreed - terms of the fleet
 * @returns the reason, or null
 */
export function disagreement(siteClass: SiteClass, agreed: Pick<FleetFrame, 'agreed' | 'fleetTerms'>): string | null {
  if (siteClass.fleetTerms !== agreed.fleetTerms)
    return 'currency, horizon, month of start and reserve must be those of the other sites'
  for (const [name, signature] of siteClass.shared) {
    const known = Object.hasOwn(agreed.agreed, name) ? agreed.agreed[name] : signature
    if (known === signature) continue
    const [kind, ...words] = name.split(' ')
    return kind === 'model'
      ? `model "${words.join(' ')}" is given differently in an earlier site: kind, tier, failure and successor must agree`
      : `"${words.join(' ')}" has another exit rate in an earlier site; one provider has one rate`
  }
  return null
}

interface CountedModel {
  readonly model: FleetModel
  readonly place: { readonly site: ReadSite; readonly index: number }
  /** Flagged units by age in thousandths of a year; ours: a third of a day. */
  readonly survivors: Map<number, number>
  oldestAgeYears: number
}

class Counted {
  readonly #seed: number
  readonly #repeated: ReadonlySet<number>
  readonly #models = new Map<string, CountedModel>()
  readonly #leadModels = new Map<string, number>()
  readonly #providers = new Map<string, number>()
  readonly #providerScenarios = new Map<string, Scenario>()
  readonly #agreed: Record<string, string> = Object.create(null)
  readonly #agreeing = new WeakMap<SiteClass, boolean>()
  readonly #sample: SiteSample
  readonly #laterNames = new Set<string>()
  readonly leftOut = new Reasons()
  #first: ReadSite | null = null
  #sites = 0
  #listed = 0
  #uncounted = false

  constructor(seed: number, repeated: readonly number[]) {
    this.#seed = seed
    this.#sample = new SiteSample(seed)
    this.#repeated = new Set(repeated)
  }

  take(site: ReadSite | LeftOut): void {
    this.#listed++
    if (!isRead(site)) {
      this.leftOut.take(site.ticket.id, site.reason)
      return
    }
    if (this.#repeated.has(site.ticket.index)) return
    this.#first ??= site
    if (!this.#agrees(site.siteClass)) return
    this.#sites++
    const { leadModel, standsAlone, option } = site.siteClass
    const provider = option.warrantyProvider.name
    for (const { name } of option.later) if (this.#laterNames.size < MOST_NAMED) this.#laterNames.add(name)
    // models and makers that only one site has are not counted by name
    if (!site.siteClass.isOwnModel(leadModel)) countName(this.#leadModels, leadModel)
    if (!(standsAlone && provider === `maker of ${site.ticket.id}`)) countName(this.#providers, provider)
    if (!this.#providerScenarios.has(provider) && this.#providerScenarios.size < 20 * MOST_NAMED)
      this.#providerScenarios.set(provider, { ...site.siteClass.scenario, assumptions: [], notes: [] })
    this.#sample.add(site.ticket.id)
    for (const population of site.siteClass.option.populations) this.#takeModel(site, population.place)
  }

  /** Whether a class goes with the sites before it; once it does, later sites must agree with it too. */
  #agrees(siteClass: SiteClass): boolean {
    const known = this.#agreeing.get(siteClass)
    if (known !== undefined) return known
    const fleetTerms = this.#first?.siteClass.fleetTerms ?? ''
    const agrees = disagreement(siteClass, { agreed: this.#agreed, fleetTerms }) === null
    if (agrees) for (const [name, signature] of siteClass.shared) this.#agreed[name] ??= signature
    this.#agreeing.set(siteClass, agrees)
    return agrees
  }

  #takeModel(site: ReadSite, place: number): void {
    const { siteClass, ages } = site
    const population = siteClass.option.populations[place]
    if (population === undefined) return
    const name = siteClass.modelOf(population)
    const age = ages[place] ?? 0
    const flagged = population.failure.noneFailedSoFar
    if (age > 0 && !countsSurvivors(population.failure)) this.#uncounted = true
    if (siteClass.isOwnModel(name)) return
    const known = this.#models.get(name) ?? {
      model: modelAlone(siteClass.scenario, population.model, []),
      place: { site, index: population.model },
      survivors: new Map<number, number>(),
      oldestAgeYears: 0,
    }
    this.#models.set(name, known)
    known.oldestAgeYears = Math.max(known.oldestAgeYears, age)
    if (flagged && age > 0) {
      const rounded = Math.round(age * 1000)
      known.survivors.set(rounded, (known.survivors.get(rounded) ?? 0) + population.count)
    }
  }

  census(
    source: FleetSource,
    form: FleetFrame['form'],
    draws: number,
    mark: Hash,
  ): Pick<Census, 'frame' | 'uncountedSurvivors' | 'providerScenarios' | 'laterNames'> {
    const first = this.#first
    if (first === null) {
      throw nothingToPlay(source, this.leftOut.first)
    }
    const { scenario, fleetTerms } = first.siteClass
    // this includes what files named by the template, such as a fit, say of models and makers
    mark.update(JSON.stringify(this.#agreed))
    const { sample, groupSizes } = this.#sample.groups()
    return {
      uncountedSurvivors: this.#uncounted,
      providerScenarios: this.#providerScenarios,
      laterNames: [...this.#laterNames].sort(),
      frame: {
        seed: this.#seed,
        draws,
        form,
        models: [...this.#models.values()].map(({ place, survivors, oldestAgeYears }) => ({
          ...modelAlone(
            place.site.siteClass.scenario,
            place.index,
            [...survivors]
              .sort(([a], [b]) => a - b)
              .map(([thousandths, count]) => ({ ageYears: thousandths / 1000, count })),
          ),
          oldestAgeYears,
        })),
        namedModels: mostFrequent(this.#leadModels),
        namedProviders: mostFrequent(this.#providers),
        sample,
        groupSizes,
        repeated: [...this.#repeated],
        sites: this.#sites,
        listed: this.#listed,
        fleetTerms,
        agreed: { ...this.#agreed },
        currency: scenario.currency,
        horizonYears: scenario.horizonYears,
        startMonth: scenario.startMonth,
        reserve: scenario.reserve,
        mark: mark.digest('hex'),
      },
    }
  }
}

/** Which suspects do occur twice: places of all but the first. */
async function checkSuspects(
  source: FleetSource,
  plan: Awaited<ReturnType<typeof columnsOfTable>>,
  suspects: ReadonlySet<string>,
): Promise<number[]> {
  if (suspects.size === 0) return []
  const seen = new Set<string>()
  const repeated: number[] = []
  for await (const { id, index } of streamSites(source, plan)) {
    if (!suspects.has(id)) continue
    if (seen.has(id)) repeated.push(index)
    seen.add(id)
  }
  return repeated
}
