import { number, oneOf } from './leaf.ts'
import { meterFile } from './meter-file.ts'
import { block, choice } from './walk.ts'

/** An hourly load. */
const hourlyShape = block({
  hourly_csv: meterFile().meta({
    description: 'File with a year of hours, half-hours or quarter-hours; or {file, column, minus}.',
    phrase: 'file with the hours of the use',
  }),
})

/** What the household uses (C5). */
export const loadBlock = block(
  {
    annual_kwh: number({ min: 0, max: 1e9, above: true }, 'kWh')
      .optional()
      .meta({ description: 'Use of a year, kWh; with a file it rescales the hours.', phrase: 'use of a year' }),
    shape: choice([oneOf(['flat', 'day-evening']), hourlyShape], raw => (typeof raw === 'object' ? 1 : 0))
      .optional()
      .meta({
        description: 'flat, day-evening (twice as much from 17 to 23 h), or {hourly_csv: FILE}; default day-evening.',
        phrase: 'shape of the use',
      }),
  },
  load =>
    load.annual_kwh === undefined && typeof load.shape !== 'object'
      ? [{ path: ['annual_kwh'], message: 'missing; needed: the use of a year in kWh, or an hourly file as shape' }]
      : [],
)
