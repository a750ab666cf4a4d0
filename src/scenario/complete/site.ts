import { figureOf } from '../../evidence/index.ts'
import type { SpreadScale } from '../../numerics/distributions/two-piece.ts'
import { sumOf } from '../../numerics/sum.ts'
import type { HourlyFiles } from '../files/hourly-files.ts'
import type { MonthlyGeneration, Site } from '../model.ts'
import type { Quantity } from '../quantity.ts'
import type { RoofArray } from '../roof.ts'
import { keyWords } from '../schema/key-words.ts'
import type { Given } from '../schema/range.ts'
import type { GivenScenario } from '../schema/scenario.ts'
import type { GivenSite } from '../schema/site.ts'
import { completeLoad } from './load.ts'
import type { Filling, Resolution } from './resolution.ts'
import { completeArrays, completeHourly } from './roof.ts'
import { usualMonths } from './usual-months.ts'

/** A key of the site or of the visit that may be a range. */
export interface SiteRange {
  readonly key: string
  readonly scale: SpreadScale
  readonly given: Given | undefined
  /** Filled from evidence times a factor; left out: the common figure of the key. */
  readonly filling?: Filling
  readonly read: boolean
}

/** Settles a key that belongs to no component; the range of evidence is drawn. */
export function siteQuantity(resolution: Resolution, asked: SiteRange): Quantity {
  const { key } = asked
  const filling = asked.filling ?? (asked.given === undefined ? { figure: figureOf(null, key) } : NEVER)
  return resolution.quantity({
    ...asked,
    filling,
    unknownName: key,
    evidenceName: `evidence ${key.replaceAll('.', ' ')}`,
    label: keyWords(key),
    evidenceLabel: `${keyWords(key)} (evidence)`,
    evidenceDrawn: true,
  })
}

// A placeholder where the user gave the value and nothing has to be filled.
const NEVER = { choice: 0, remark: '' }

/**
 * The site of a scenario, complete (T1-T3, C5).
 *
 * @param given - the scenario as written, without problems
 * @param resolution - takes assumptions, notes and unknowns
 * @param files - the hourly years it names
 */
export function completeSite(given: GivenScenario, resolution: Resolution, files: HourlyFiles): Site {
  const { site } = given
  const network = site.network ?? {}
  if (site.panels !== undefined) yours(resolution, 'site.panels', site.panels)
  if (site.panel_w !== undefined) yours(resolution, 'site.panel_w', site.panel_w)
  const generation = completeGeneration(given, resolution, files)
  const load = completeLoad(given, resolution, files.loadKwh)
  const result: Site = {
    panelW: site.panel_w ?? null,
    panels: site.panels ?? (generation.form === 'arrays' ? panelsOf(generation.arrays) : null),
    generation,
    ...(load === undefined ? {} : { load }),
    energyValue: completeEnergyValue(site, resolution),
    network: {
      phases: network.phases ?? 1,
      acLimitKwPerPhase: network.ac_limit_kw_per_phase ?? null,
      exportLimitKw: network.export_limit_kw ?? null,
      maxDcAcRatio: resolution.value({
        key: 'site.network.max_dc_ac_ratio',
        given: network.max_dc_ac_ratio,
        filling: { figure: figureOf(null, 'site.network.max_dc_ac_ratio') },
      }),
      netsAcrossPhases: network.nets_across_phases ?? true,
    },
  }
  resolution.value({
    key: 'site.network.phases',
    given: network.phases,
    filling: { choice: 1, remark: 'most homes have one' },
  })
  if (network.ac_limit_kw_per_phase !== undefined)
    yours(resolution, 'site.network.ac_limit_kw_per_phase', network.ac_limit_kw_per_phase)
  if (network.export_limit_kw !== undefined) yours(resolution, 'site.network.export_limit_kw', network.export_limit_kw)
  if (network.nets_across_phases !== undefined)
    resolution.word('site.network.nets_across_phases', network.nets_across_phases ? 'yes' : 'no', '')
  noteExportLimit(result, resolution)
  return result
}

/** Notes how well the loss to an export limit is known, by what is known of the hours and of the load (E2). */
function noteExportLimit(site: Site, resolution: Resolution): void {
  if (site.network.exportLimitKw === null) return
  if (site.generation.form === 'monthly')
    resolution.note(
      'export-limit-not-played',
      'The export limit loses nothing here: twelve monthly figures do not show the hours in which it would cut.',
    )
  else if (site.load === undefined)
    resolution.note(
      'export-limit-without-load',
      'What the export limit cuts is played with a flat load that fits self_consumed; it is known to about 5 percentage points. Give site.load to know it better.',
    )
}

function panelsOf(arrays: readonly RoofArray[]): number {
  return arrays.reduce((sum, array) => sum + array.panels, 0)
}

function completeGeneration(given: GivenScenario, resolution: Resolution, files: HourlyFiles): Site['generation'] {
  if (given.site.generation.arrays !== undefined) return completeArrays(given, resolution, files)
  if (files.generationKwh !== null) return completeHourly(given, resolution, files.generationKwh)
  return completeMonthly(given, resolution)
}

function completeMonthly(given: GivenScenario, resolution: Resolution): MonthlyGeneration {
  const { generation } = given.site
  const written = generation.monthly_kwh ?? usualMonths(given, resolution)
  const sum = sumOf(written)
  const scale = generation.annual_kwh === undefined ? 1 : generation.annual_kwh / sum
  const monthlyKwh = written.map(kwh => kwh * scale)
  const yearKey = generation.monthly_kwh === undefined ? 'annual_kwh' : 'monthly_kwh (sum of twelve)'
  yours(resolution, `site.generation.${yearKey}`, generation.annual_kwh ?? sum)
  if (generation.as_quoted_for !== undefined)
    resolution.word('site.generation.as_quoted_for', generation.as_quoted_for, '')
  const includesDowntime = resolution.value({
    key: 'site.generation.includes_downtime',
    given: generation.includes_downtime,
    filling: { choice: 0, remark: 'quoted energy is taken to hold no downtime' },
  })
  const degradation = resolution.value({
    key: 'site.generation.degradation',
    given: generation.degradation,
    filling: { figure: figureOf(null, 'site.generation.degradation') },
  })
  const quoted = given.options.findIndex(option => option.name === generation.as_quoted_for)
  return { form: 'monthly', monthlyKwh, asQuotedFor: quoted < 0 ? null : quoted, includesDowntime, degradation }
}

function completeEnergyValue(site: GivenSite, resolution: Resolution): Site['energyValue'] {
  const value = site.energy_value
  const selfUsed = Array.isArray(value.self_consumed) ? value.self_consumed : null
  const selfUse = Array.isArray(value.self_consumed) ? undefined : value.self_consumed
  const prefix = 'site.energy_value.'
  // Nothing used on the spot: what is bought costs nothing more when the sun's inverter is down (C5).
  const importRead = site.load !== undefined || (selfUsed === null ? selfUse !== 0 : selfUsed.some(share => share > 0))
  const price = (key: 'import_price_per_kwh' | 'export_price_per_kwh', read: boolean) =>
    siteQuantity(resolution, { key: `${prefix}${key}`, scale: 'log', given: value[key], read })
  const growth = (key: 'price_growth' | 'export_price_growth', read: boolean) =>
    siteQuantity(resolution, {
      key: `${prefix}${key}`,
      scale: 'linear',
      given: value[key],
      read,
    })
  if (selfUsed !== null && site.load === undefined)
    yours(resolution, 'site.energy_value.self_consumed (mean of twelve)', sumOf(selfUsed) / selfUsed.length)
  const selfConsumedKey = 'site.energy_value.self_consumed'
  return {
    importPricePerKwh: price('import_price_per_kwh', importRead),
    exportPricePerKwh: price('export_price_per_kwh', true),
    // a known load says hour by hour what is used on the spot: no share is read, and none is listed (C5)
    selfConsumed:
      site.load !== undefined
        ? figureOf(null, selfConsumedKey).value
        : (selfUsed ??
          siteQuantity(resolution, {
            key: selfConsumedKey,
            scale: 'logit',
            given: selfUse,
            read: true,
          })),
    importGrowth: growth('price_growth', importRead && value.import_price_per_kwh !== 0),
    exportGrowth: growth('export_price_growth', value.export_price_per_kwh !== 0),
  }
}

function yours(resolution: Resolution, key: string, value: number): void {
  resolution.value({ key, given: value, filling: NEVER })
}
