import { figureOf } from '../../evidence/index.ts'
import { sumOf } from '../../numerics/sum.ts'
import type { HourlyFiles } from '../files/hourly-files.ts'
import type { ArraysGeneration, HourlyGeneration, RoofFigures } from '../roof.ts'
import { meterFileOf } from '../schema/meter-file.ts'
import type { GivenScenario } from '../schema/scenario.ts'
import { completeArray } from './array.ts'
import { completeLocation } from './location.ts'
import type { Resolution } from './resolution.ts'
import { roofFigures } from './roof-figures.ts'

/**
 * Arrays of panels and where they are, complete (E1); every figure of the chain is listed.
 *
 * @param given - the scenario as written, without problems
 * @param resolution - takes assumptions and notes
 * @param files - hourly light, where it is named
 */
export function completeArrays(given: GivenScenario, resolution: Resolution, files: HourlyFiles): ArraysGeneration {
  const { generation } = given.site
  const arrays = (generation.arrays ?? []).map(array => completeArray(array, resolution))
  const inWords = arrays.some(array => array.shade.word !== null)
  const location = completeLocation(given, resolution, files)
  return {
    form: 'arrays',
    location,
    arrays,
    lossesShare: resolution.value({
      key: 'site.generation.losses',
      given: generation.losses,
      filling: { figure: figureOf(null, 'roof.losses') },
    }),
    degradation: completeDegradation(given, resolution),
    figures: listedFigures(resolution, key => {
      if (key.startsWith('shade_')) return inWords
      if (key.startsWith('accuracy.')) return key === `accuracy.${location.sky.form}`
      return key !== 'sub_hourly_uplift' || files.weather !== null
    }),
  }
}

/**
 * An hourly year of generation, complete (E7).
 *
 * @param given - the scenario as written, without problems
 * @param resolution - takes assumptions
 * @param hourlyKwh - the hours read
 */
export function completeHourly(
  given: GivenScenario,
  resolution: Resolution,
  hourlyKwh: Float64Array,
): HourlyGeneration {
  const { generation } = given.site
  const sum = sumOf(hourlyKwh)
  const scale = generation.annual_kwh === undefined ? 1 : generation.annual_kwh / sum
  resolution.word('site.generation.hourly_csv', meterFileOf(generation.hourly_csv)?.file, '')
  resolution.value({ key: 'site.generation (sum of the hours)', given: sum * scale, filling: NEVER })
  if (generation.as_quoted_for !== undefined)
    resolution.word('site.generation.as_quoted_for', generation.as_quoted_for, '')
  const quoted = given.options.findIndex(option => option.name === generation.as_quoted_for)
  return {
    form: 'hourly',
    hourlyKwh: hourlyKwh.map(kwh => kwh * scale),
    asQuotedFor: quoted < 0 ? null : quoted,
    includesDowntime: resolution.value({
      key: 'site.generation.includes_downtime',
      given: generation.includes_downtime,
      filling: { choice: 0, remark: 'the energy is taken to hold no downtime' },
    }),
    degradation: completeDegradation(given, resolution),
    figures: listedFigures(resolution, key => key === 'sub_hourly_uplift'),
  }
}

// A placeholder where the user gave the value and nothing has to be filled.
const NEVER = { choice: 0, remark: '' }

function completeDegradation(given: GivenScenario, resolution: Resolution): number {
  return resolution.value({
    key: 'site.generation.degradation',
    given: given.site.generation.degradation,
    filling: { figure: figureOf(null, 'site.generation.degradation') },
  })
}

/** The figures of the chain; those that this roof reads are listed with their sources. */
function listedFigures(resolution: Resolution, isRead: (key: string) => boolean): RoofFigures {
  for (const key of FIGURE_KEYS) {
    if (!isRead(key)) continue
    const figure = figureOf(null, `roof.${key}`)
    resolution.value({ key: `roof.${key}`, given: undefined, filling: { figure } })
  }
  return roofFigures()
}

const FIGURE_KEYS = [
  'ground_reflectance',
  'incidence_coefficient',
  'diffuse_taken',
  'heat_loss.close-roof',
  'heat_loss.rack',
  'heat_loss.open',
  'power_per_kelvin',
  'daytime_warmer_k',
  'ac_wiring_loss',
  'series_mismatch',
  'optimiser_efficiency',
  'shade_word.light',
  'shade_word.moderate',
  'shade_word.heavy',
  'shade_impact.string',
  'shade_impact.panel',
  'shade_recovered',
  'shade_word_touches',
  'sub_hourly_uplift',
  'max_panels_in_string',
  'accuracy.hourly',
  'accuracy.monthly',
  'accuracy.climate',
] as const
