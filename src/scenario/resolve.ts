import { figureOf, findFigure } from '../evidence/index.ts'
import { completeOption } from './complete/option.ts'
import { completeFactor, DEFAULT_CURRENCY, priceFactor } from './complete/price-factor.ts'
import { ProductModels } from './complete/product-models.ts'
import { Providers } from './complete/providers.ts'
import { Resolution } from './complete/resolution.ts'
import { completeSite, siteQuantity } from './complete/site.ts'
import { withUsedInputs } from './complete/used-inputs.ts'
import type { FittedFiles } from './files/fitted-files.ts'
import type { HourlyFiles } from './files/hourly-files.ts'
import type { Option, Scenario } from './model.ts'
import { addNotes } from './notes/add-notes.ts'
import { middle } from './quantity.ts'
import type { GivenScenario } from './schema/scenario.ts'

/**
 * The scenario as the model plays it: every gap filled from evidence or by a default, each value listed with its source,
 * and what is not known named (U1).
 *
 * @param given - the scenario as written, without problems
 * @param fileTitle - title where the scenario has none
 * @param files - the hourly years it names
 * @param fitted - the fitted failure models it names
 */
export function resolve(
  given: GivenScenario,
  fileTitle: string,
  files: HourlyFiles,
  fitted: FittedFiles,
): Omit<Scenario, 'taken'> {
  const resolution = new Resolution(given.currency ?? DEFAULT_CURRENCY)
  const head = completeHead(given, resolution, fileTitle)
  const site = completeSite(given, resolution, files)
  for (const text of files.notes) resolution.note('hourly-file', text)
  const shared = {
    given,
    resolution,
    models: new ProductModels(given),
    providers: new Providers(given, resolution),
    fitted,
  }
  const { generation } = site
  const options = given.options.map((option, index) => {
    const complete = completeOption(option, index, shared)
    return generation.form === 'arrays' ? withUsedInputs(complete, option, generation.arrays) : complete
  })
  completeFactor(given, resolution)
  const visit = completeVisit(given, resolution, options)
  const models = shared.models.complete(options, input => resolution.unknown(input))
  const tierEffect = completeTierEffect(given, resolution, options)
  addNotes(given, site, options, tierEffect, resolution)
  const { unknowns, assumptions, notes } = resolution
  return { ...head, site, visit, options, models, tierEffect, unknowns, assumptions, notes }
}

function completeHead(given: GivenScenario, resolution: Resolution, fileTitle: string) {
  const reserve = given.reserve ?? {}
  resolution.word('title', given.title, fileTitle, 'name of the file')
  resolution.word('currency', given.currency, DEFAULT_CURRENCY)
  resolution.word('start', given.start, 'January')
  resolution.word('residual_value', given.residual_value, 'none')
  const value = (key: string, written: number | undefined, choice: number, remark: string) =>
    resolution.value({ key, given: written, filling: { choice, remark } })
  const fromEvidence = (key: 'horizon_years' | 'discount_rate', written: number | undefined) => {
    const figure = figureOf(null, key)
    return resolution.value({ key, given: written, filling: { figure, remark: figure.remark } })
  }
  return {
    title: given.title ?? fileTitle,
    currency: resolution.currency,
    horizonYears: fromEvidence('horizon_years', given.horizon_years),
    startMonth: given.start === undefined ? 1 : Number(given.start.slice(5)),
    start: given.start ?? null,
    discountRate: fromEvidence('discount_rate', given.discount_rate),
    residualValue: given.residual_value ?? 'none',
    reserve: {
      interest: value('reserve.interest', reserve.interest, 0, 'after inflation savings earn nothing'),
      opening: value('reserve.opening', reserve.opening, 0, 'nothing put aside yet'),
      confidence: value('reserve.confidence', reserve.confidence, 0.9, 'enough in nine of ten lifetimes'),
      inflation: reserve.inflation ?? null,
    },
  } as const
}

/** Prices of a visit, read where a visit can be paid (W4, C4). */
function completeVisit(given: GivenScenario, resolution: Resolution, options: readonly Option[]): Scenario['visit'] {
  const visited = options.flatMap(option => option.populations).filter(population => population.needsVisit)
  const onRoof = visited.some(population => population.onRoof)
  const factor = priceFactor(given)?.factor
  const price = (key: 'call_out' | 'roof_access', read: boolean) => {
    const figure = findFigure(null, `visit.${key}`)
    if (given.visit?.[key] === undefined && (factor === undefined || figure === null)) return 0
    return siteQuantity(resolution, {
      key: `visit.${key}`,
      scale: 'log',
      given: given.visit?.[key],
      read,
      ...(figure === null || factor === undefined
        ? {}
        : { filling: { figure, factor, remark: `${figure.value} USD × ${factor}` } }),
    })
  }
  const callOut = price('call_out', visited.length > 0)
  const roofAccess = price('roof_access', onRoof)
  const paid = visited.some(population => middle(population.prices.labour) > 0) || middle(callOut) > 0
  const labourGrowth = siteQuantity(resolution, {
    key: 'visit.labour_growth',
    scale: 'linear',
    given: given.visit?.labour_growth,
    read: paid || (onRoof && middle(roofAccess) > 0),
  })
  return { callOut, roofAccess, labourGrowth }
}

/** U1c: drawn, fixed, or null where no population takes a tier's failure from evidence. */
function completeTierEffect(
  given: GivenScenario,
  resolution: Resolution,
  options: readonly Option[],
): Scenario['tierEffect'] {
  const failures = options.flatMap(option => option.populations).map(population => population.failure.source)
  if (!failures.some(source => source.form === 'evidence' && source.plainRow !== null)) return null
  const fixed = given.tier_effect
  const filling = { choice: 1, remark: 'drawn evenly from 0 (no gap between tiers) to 2 (twice the judged gap)' }
  resolution.value({ key: 'tier_effect', given: fixed, filling })
  if (fixed !== undefined) return { fixed }
  const unknown = resolution.unknown({
    name: 'tier_effect',
    label: 'how much of the judged gap between tiers is real',
    unit: '',
    low: 0.2,
    middle: 1,
    high: 1.8,
    kind: 'uniform',
    known: 'judgement',
  })
  return { unknown }
}
