import { z } from 'zod'
import { InputError } from '../errors.ts'
import { parseYaml } from '../input/yaml.ts'
import { fullSource, scenarioFrom } from '../scenario/read-scenario.ts'
import { componentBlock } from '../scenario/schema/component.ts'
import { generationBlock } from '../scenario/schema/generation.ts'
import { cellValue, type SiteColumn } from './columns.ts'
import { chooseOption, isBlock, type PlainSource, withOneOption, withoutPlaces } from './fleet-file.ts'
import { sharedUnknowns } from './shared-unknowns.ts'
import { SiteClass } from './site-class.ts'
import type { SiteTicket } from './site-stream.ts'

/** What a site reader needs of the fleet; plain data for workers. */
export type SiteForm =
  | {
      readonly form: 'table'
      readonly template: PlainSource
      readonly baseFolder: string
      readonly columns: readonly SiteColumn[]
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
  /** For every column of a table: the population whose age it is, 'energy', or null where it makes a class. */
  readonly #own: readonly (number | 'energy' | null)[]

  /** @param form - of the fleet */
  constructor(form: SiteForm) {
    this.#form = form
    this.#own = form.form === 'table' ? form.columns.map(column => ownPlace(column, form.template.value)) : []
  }

  /**
   * Reads one site (F5).
   *
   * @param ticket - as it stands in the table or folder
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
    return { ticket, siteClass, ages: siteClass.ages, energyFactor: 1 }
  }

  #readRow(ticket: SiteTicket): ReadSite | LeftOut {
    if (this.#form.form !== 'table') throw new RangeError('a folder has no rows')
    const cells = ticket.cells ?? []
    const key = JSON.stringify(cells.filter((_, i) => this.#own[i] === null))
    const known = this.#classes.get(key)
    const siteClass = known ?? this.#classOf(key, ticket)
    if (known !== undefined) {
      // the class used last is forgotten last
      this.#classes.delete(key)
      this.#classes.set(key, known)
    }
    if (typeof siteClass === 'string') return { ticket, reason: siteClass }
    const ages = [...siteClass.ages]
    let energyFactor = 1
    const problems: string[] = []
    this.#form.columns.forEach((column, i) => {
      const own = this.#own[i] ?? null
      const cell = cells[i] ?? ''
      if (own === null || cell === '') return
      const schema = own === 'energy' ? generationBlock.shape.annual_kwh : componentBlock.shape.age_years
      const result = z.safeParse(schema, cellValue(cell, false))
      if (!result.success) problems.push(`${column.column}: ${result.error.issues[0]?.message ?? 'cannot be used'}`)
      else if (own === 'energy') energyFactor = (result.data ?? 0) / siteClass.yearlyKwh
      else ages[own] = result.data ?? 0
    })
    if (problems.length > 0) return { ticket, reason: problems.join('; ') }
    return { ticket, siteClass, ages, energyFactor }
  }

  #classOf(key: string, ticket: SiteTicket): SiteClass | string {
    const made = this.#make(key, ticket)
    if (this.#classes.size >= MOST_CLASSES) {
      const oldest = this.#classes.keys().next()
      if (!oldest.done) this.#classes.delete(oldest.value)
    }
    this.#classes.set(key, made)
    return made
  }

  #make(key: string, ticket: SiteTicket): SiteClass | string {
    if (this.#form.form !== 'table') throw new RangeError('a folder has no rows')
    const { template, baseFolder, columns } = this.#form
    const value = structuredClone(template.value)
    columns.forEach((column, i) => {
      const cell = ticket.cells?.[i] ?? ''
      if (this.#own[i] === null && cell !== '') place(value, column.path, cellValue(cell, column.isText))
    })
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

function ownPlace({ path }: SiteColumn, template: unknown): number | 'energy' | null {
  const key = path.join('.')
  const age = /^options\.0\.components\.(\d+)\.age_years$/.exec(key)
  if (age !== null) return Number(age[1])
  const site = isBlock(template) && isBlock(template.site) ? template.site : {}
  const monthly = isBlock(site.generation) && site.generation.monthly_kwh !== undefined
  return key === 'site.generation.annual_kwh' && monthly ? 'energy' : null
}

/** Puts a value at a path, making blocks on the way; list entries must be there. */
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

/** In a folder each scenario stands alone: what has no name is its own, whatever its option is called. */
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
