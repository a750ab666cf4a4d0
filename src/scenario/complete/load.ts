import { sumOf } from '../../numerics/sum.ts'
import type { Load } from '../roof.ts'
import { meterFileOf } from '../schema/meter-file.ts'
import type { GivenScenario } from '../schema/scenario.ts'
import type { Resolution } from './resolution.ts'

/**
 * What the household uses, complete (C5); with it `self_consumed` is not read.
 *
 * @param given - the scenario as written, without problems
 * @param resolution - takes assumptions and notes
 * @param loadKwh - the hours read, where the shape is a file
 * @returns undefined where no load is given
 */
export function completeLoad(
  given: GivenScenario,
  resolution: Resolution,
  loadKwh: Float64Array | null,
): Load | undefined {
  const { load } = given.site
  if (load === undefined) return undefined
  if (given.site.energy_value.self_consumed !== undefined)
    resolution.note(
      'load-rules',
      'Both a load and self_consumed are given; the load rules and self_consumed is not read.',
    )
  if (loadKwh !== null) {
    const sum = sumOf(loadKwh)
    const annualKwh = load.annual_kwh ?? sum
    resolution.value({ key: 'site.load.annual_kwh', given: annualKwh, filling: NEVER })
    resolution.word(
      'site.load.shape',
      meterFileOf(typeof load.shape === 'object' ? load.shape.hourly_csv : undefined)?.file,
      '',
    )
    return { form: 'hourly', hourlyKwh: loadKwh.map(kwh => (sum > 0 ? (kwh * annualKwh) / sum : 0)) }
  }
  const annualKwh = load.annual_kwh ?? 0
  resolution.value({ key: 'site.load.annual_kwh', given: annualKwh, filling: NEVER })
  const shape = typeof load.shape === 'string' ? load.shape : undefined
  resolution.word('site.load.shape', shape, 'day-evening')
  return { form: shape ?? 'day-evening', annualKwh }
}

// A placeholder where the user gave the value and nothing has to be filled.
const NEVER = { choice: 0, remark: '' }
