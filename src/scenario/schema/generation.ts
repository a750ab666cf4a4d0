import { LEAST_YEAR_KWH, tooLittleEnergy } from '../least-energy.ts'
import { arrayList } from './arrays.ts'
import { number, share, text, yearlyShare } from './leaf.ts'
import { meterFile } from './meter-file.ts'
import { twelve } from './range.ts'
import { block } from './walk.ts'

const FORMS = ['monthly_kwh', 'hourly_csv', 'arrays'] as const

/** Keys that go with other forms only. */
const STRAY = {
  monthly_kwh: ['losses'],
  hourly_csv: ['losses'],
  arrays: ['annual_kwh', 'as_quoted_for', 'includes_downtime'],
} as const

/** What the roof gives: exactly one form; `annual_kwh` alone where no month is known. */
export const generationBlock = block(
  {
    monthly_kwh: twelve(number({ min: 0, max: 1e9 }, 'kWh'))
      .optional()
      .meta({
        description: 'AC energy of year 0, twelve values from January, kWh.',
        phrase: 'energy of each month',
        whole: 'energy of a year',
      }),
    annual_kwh: number({ min: LEAST_YEAR_KWH, max: 1e10 }, 'kWh').optional().meta({
      description:
        'Energy of year 0, kWh; with months or hours it rescales them, alone it takes its months from latitude or climate.',
      phrase: 'energy of a year',
    }),
    hourly_csv: meterFile().optional().meta({
      description:
        'File with a year of hours, half-hours or quarter-hours, AC energy as monthly_kwh; or {file, column, minus}.',
      phrase: 'file with the hours of the energy',
    }),
    arrays: arrayList
      .optional()
      .meta({ description: 'The panels, array by array; needs site.location.', each: 'array {place}' }),
    losses: share({ min: 0, max: 0.5 }).optional().meta({
      description: 'With arrays: soiling, DC wiring, nameplate and the like; default from evidence.',
      phrase: 'losses by soiling, DC wiring and the like',
    }),
    as_quoted_for: text().optional().meta({
      description:
        'Name of the option whose quote the kWh are; left out: energy before the design losses of any option.',
      phrase: 'energy as quoted for',
    }),
    includes_downtime: share({ min: 0, max: 0.5 }).optional().meta({
      description: 'Share already deducted for downtime; default 0.',
      phrase: 'downtime already in the quoted energy',
    }),
    degradation: yearlyShare({ min: 0, max: 0.2 })
      .optional()
      .meta({ description: 'Loss of output a year; default from evidence.', phrase: 'ageing of the panels' }),
  },
  generation => {
    const used = FORMS.filter(form => generation[form] !== undefined)
    const [first, second] = used
    if (first === undefined) {
      if (generation.annual_kwh === undefined)
        return [{ path: [], message: `says no energy; give one of annual_kwh, ${FORMS.join(', ')}` }]
      return generation.losses === undefined ? [] : [{ path: ['losses'], message: stray('losses', 'annual_kwh') }]
    }
    if (second !== undefined)
      return [{ path: [second], message: `"${second}" and "${first}" both state the energy; keep one` }]
    const strays = STRAY[first].filter(key => generation[key] !== undefined)
    if (strays.length > 0) return strays.map(key => ({ path: [key], message: stray(key, first) }))
    if (first !== 'monthly_kwh') return []
    const flaw = tooLittleEnergy('the twelve months', generation.monthly_kwh ?? [])
    return flaw === null ? [] : [{ path: ['monthly_kwh'], message: flaw }]
  },
  'what the roof gives, e.g. {annual_kwh: 6500}, or {monthly_kwh: [twelve numbers from January]}; or hourly_csv, or arrays',
)

function stray(key: string, form: string): string {
  return `"${key}" means nothing with "${form}"; leave it out`
}
