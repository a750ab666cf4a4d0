import * as z from 'zod'
import { InputError } from '../../errors.ts'
import { parseYaml } from '../../input/yaml.ts'
import { fullSource, scenarioFrom } from '../../scenario/read-scenario.ts'
import { generationBlock } from '../../scenario/schema/generation.ts'
import { SiteClass } from '../play/site-class.ts'
import { cellValue, lostPlace, type SiteColumn } from './columns.ts'
import { chooseOption, withOneOption } from './fleet-file.ts'
import { withRecords } from './fleet-records.ts'
import { ageKey, isAge, type KnownAges, optionOn } from './known-ages.ts'
import { isBlock, optionBlocks, type PlainSource, withoutPlaces } from './parsed.ts'
import { RoofOptions, withWords } from './roof-options.ts'
import { sharedUnknowns } from './shared-unknowns.ts'
import { ageOf, givenUp } from './site-age.ts'
import type { SiteTicket } from './site-stream.ts'

/** What a site reader needs of the fleet; plain data for workers. */
export type SiteForm =
  | {
      readonly form: 'table'
      readonly template: PlainSource
      readonly baseFolder: string
      /** Option of sites that name none; null: none. */
      readonly option: string | null
      readonly columns: readonly SiteColumn[]
      readonly ages: KnownAges
      /** Model -> failure.records of its units. */
      readonly records: ReadonlyMap<string, string>
    }
  | { readonly form: 'folder'; readonly folder: string; readonly option: string | null }

/** A site that was read: what it shares with others, and what is its own. */
export interface ReadSite {
  readonly ticket: SiteTicket
  readonly siteClass: SiteClass
  /** Age of each population at the start, years, >= 0. */
  readonly ages: readonly number[]
  /** Factor on the energy of the class, > 0. */
  readonly energyFactor: number
  /** Whether the site gives the ages of its units, or needs none. */
  readonly ageKnown: boolean
}

/** A site that was left out, with the reason (F5). */
export interface LeftOut {
  readonly ticket: SiteTicket
  readonly reason: string
}

/** Scenarios kept in memory. Ours: a class of a home costs about half a megabyte when played. */
const MOST_CLASSES = 128

/** Reads sites; those that differ in age and yearly energy alone share one scenario. */
export class SiteReader {
  readonly #form: SiteForm
  readonly #classes = new Map<string, SiteClass | string>()
  readonly #roofs: RoofOptions | null

  /** @param form - of the fleet */
  constructor(form: SiteForm) {
    this.#form = form
    this.#roofs = form.form === 'table' ? new RoofOptions(form.template, form.option) : null
  }

  /**
   * Reads one site (F5).
   *
   * @param ticket - as it is in the table or folder
   */
  read(ticket: SiteTicket): ReadSite | LeftOut {
    try {
      if (ticket.id === '') return { ticket, reason: 'the site has no id' }
      return this.#form.form === 'folder' ? this.#readFile(ticket) : this.#readRow(ticket)
    } catch (error) {
      if (error instanceof InputError) return { ticket, reason: reasonOf(error) }
      throw error
    }
  }

  #readFile(ticket: SiteTicket): ReadSite | LeftOut {
    if (this.#form.form !== 'folder') throw new RangeError('a table has no files')
    if (ticket.text === null) return { ticket, reason: 'the file cannot be read; is it gone?' }
    const source = fullSource(parseYaml(ticket.text.replace(/^\uFEFF/, ''), ticket.id))
    const chosen = chooseOption(source, this.#form.option)
    if (typeof chosen !== 'string') return { ticket, reason: chosen.message }
    const value = withOwnNames(withOneOption(source.value, chosen), ticket.id)
    const siteClass = new SiteClass(scenarioFrom({ ...source, value }, this.#form.folder), ticket.id, true)
    return { ticket, siteClass, ages: siteClass.ages, energyFactor: 1, ageKnown: true }
  }

  #readRow(ticket: SiteTicket): ReadSite | LeftOut {
    if (this.#form.form !== 'table' || this.#roofs === null) throw new RangeError('a folder has no rows')
    const { columns, ages: known } = this.#form
    const cells = ticket.cells ?? []
    const gone = givenUp(columns, cells, known.dates)
    if (gone !== null) return { ticket, reason: gone }
    const chosen = optionOn(this.#roofs, columns, cells)
    if (!('name' in chosen)) return { ticket, reason: chosen.message }
    const template = this.#roofs.templateOf(chosen.name)
    const isOwn = columns.map(column => isAge(column) || isEnergy(column, template))
    const key = JSON.stringify([
      chosen.name,
      ...cells.filter((_, i) => isOwn[i] === false && columns[i]?.says !== 'retired'),
    ])
    const siteClass = this.#classOf(key, () => this.#make(key, chosen.name, cells, isOwn))
    if (typeof siteClass === 'string') return { ticket, reason: siteClass }
    const ages = [...siteClass.ages]
    let energyFactor = 1
    let ageKnown = true
    const problems: string[] = []
    columns.forEach((column, i) => {
      const cell = cells[i] ?? ''
      if (isAge(column)) {
        const said = ageOf(column, cell, known.dates)
        if (typeof said === 'string') problems.push(`${column.column}: ${said}`)
        else if (lostPlace(column, template) === null) {
          const age = said ?? known.instead.get(ageKey(chosen.name, i)) ?? 0
          for (const place of placesOf(column, template)) ages[place] = age
          ageKnown &&= said !== null
        } else if (said !== null) problems.push(lostPlace(column, template) ?? '')
      } else if (isOwn[i] === true && cell !== '') {
        const result = z.safeParse(generationBlock.shape.annual_kwh, cellValue(cell, column))
        if (result.success) energyFactor = (result.data ?? 0) / siteClass.yearlyKwh
        else problems.push(`${column.column}: ${result.error.issues[0]?.message ?? 'cannot be used'}`)
      }
    })
    if (problems.length > 0) return { ticket, reason: problems.join('; ') }
    return { ticket, siteClass, ages, energyFactor, ageKnown }
  }

  /** The class of a key, made where it is not kept. */
  #classOf(key: string, make: () => SiteClass | string): SiteClass | string {
    const known = this.#classes.get(key)
    // the class that was used least recently is dropped first
    if (known !== undefined) this.#classes.delete(key)
    else if (this.#classes.size >= MOST_CLASSES) {
      const oldest = this.#classes.keys().next()
      if (!oldest.done) this.#classes.delete(oldest.value)
    }
    const siteClass = known ?? make()
    this.#classes.set(key, siteClass)
    return siteClass
  }

  #make(key: string, option: string, cells: readonly string[], isOwn: readonly boolean[]): SiteClass | string {
    if (this.#form.form !== 'table' || this.#roofs === null) throw new RangeError('a folder has no rows')
    const { template, baseFolder, columns, records } = this.#form
    const filled = structuredClone(this.#roofs.templateOf(option))
    for (const [i, column] of columns.entries()) {
      const cell = cells[i] ?? ''
      if (column.says !== 'value' || isOwn[i] === true || cell === '') continue
      const lost = lostPlace(column, filled)
      if (lost !== null) return lost
      place(filled, column.path, cellValue(cell, column))
    }
    const named = withWords(filled, this.#roofs.names.length > 1 ? option : null)
    const value = withRecords(named, records)
    try {
      const scenario = scenarioFrom(withoutPlaces({ file: template.file, value }), baseFolder)
      return new SiteClass(sharedUnknowns(scenario), key, false)
    } catch (error) {
      if (error instanceof InputError) return reasonOf(error, columns)
      throw error
    }
  }
}

/** Whether a site was read. */
export function isRead(site: ReadSite | LeftOut): site is ReadSite {
  return 'siteClass' in site
}

/** Whether a column only scales the energy of a class and so makes no class of its own. */
function isEnergy({ path }: SiteColumn, template: unknown): boolean {
  if (path.join('.') !== 'site.generation.annual_kwh') return false
  const site = isBlock(template) && isBlock(template.site) ? template.site : {}
  return isBlock(site.generation) && site.generation.monthly_kwh !== undefined
}

/** Components whose age a column gives: the one it names, or the first and all whose age the template leaves out. */
function placesOf({ path, ofAll }: SiteColumn, template: unknown): readonly number[] {
  if (!ofAll) return [Number(path[3])]
  const components: unknown = optionBlocks(template)[0]?.components
  if (!Array.isArray(components)) return []
  return components.flatMap((component: unknown, place) =>
    place === 0 || !isBlock(component) || component.age_years === undefined ? [place] : [],
  )
}

/** Puts a value at a path, making missing blocks; list entries must exist. */
function place(root: unknown, path: readonly string[], value: unknown): void {
  let at: unknown = root
  path.slice(0, -1).forEach(key => {
    if (Array.isArray(at)) {
      at = at[Number(key)]
      return
    }
    if (!isBlock(at)) return
    const child = at[key]
    if (typeof child !== 'object' || child === null) at[key] = {}
    at = at[key]
  })
  const last = path.at(-1) ?? ''
  if (isBlock(at)) at[last] = value
  else if (Array.isArray(at)) at[Number(last)] = value
}

/** In a folder, models and providers without a name belong to their scenario alone, whatever its option is called. */
function withOwnNames(value: unknown, id: string): unknown {
  if (!isBlock(value) || !Array.isArray(value.options)) return value
  const provider = (given: unknown, role: string): unknown => {
    const block = isBlock(given) ? given : {}
    return block.name === undefined ? { ...block, name: `${role} of ${id}` } : block
  }
  const options: readonly unknown[] = value.options
  return {
    ...value,
    options: options.map((option, at) => {
      if (!isBlock(option) || at > 0) return option
      const components: readonly unknown[] = Array.isArray(option.components) ? option.components : []
      return {
        ...option,
        warranty_provider: provider(option.warranty_provider, 'maker'),
        labour_provider: provider(option.labour_provider, 'installer'),
        components: components.map((component, i) =>
          isBlock(component) && component.model === undefined ? { ...component, model: `${id} / ${i + 1}` } : component,
        ),
      }
    }),
  }
}

/** The first problems in one line, each with its column where it has one. */
function reasonOf(error: InputError, columns: readonly SiteColumn[] = []): string {
  const said = error.problems.slice(0, 3).map(({ key, message, line }) => {
    const column = columns.find(({ path }) => path.join('.') === key)?.column
    const where = column ?? (line === null ? key : `line ${line} ${key}`.trim())
    return where === '' ? message : `${where}: ${message}`
  })
  const more = error.problems.length > 3 ? ` (and ${error.problems.length - 3} more)` : ''
  return `${said.join('; ')}${more}`.replace(/\s+/g, ' ')
}
