import { z } from 'zod'
import { number, share, text, wording } from './leaf.ts'
import { twelve } from './range.ts'
import { block, type Flaw } from './walk.ts'

const FORMS = ['monthly_kwh', 'hourly_csv', 'arrays'] as const

/** What the roof gives (section 4): exactly one form. */
export const generationBlock = block(
  {
    monthly_kwh: twelve(number({ min: 0, max: 1e9 }, 'kWh'))
      .optional()
      .describe('AC energy of year 0, twelve values from January, kWh.'),
    annual_kwh: number({ min: 0, max: 1e10, above: true }, 'kWh')
      .optional()
      .describe('Rescales the twelve to this sum, kWh a year.'),
    hourly_csv: text().optional().describe('File with hourly energy.'),
    arrays: z
      .array(z.unknown(), { error: wording('a list of arrays') })
      .optional()
      .describe('The panels, array by array.'),
    as_quoted_for: text().optional().describe('Name of the option whose quote the kWh are; left out: neutral.'),
    includes_downtime: share({ min: 0, max: 0.5 })
      .optional()
      .describe('Share already taken off for downtime; default 0.'),
    degradation: share({ min: 0, max: 0.2 }).optional().describe('Loss of output a year; default from evidence.'),
  },
  generation => {
    const used = FORMS.filter(form => generation[form] !== undefined)
    const [first, second] = used
    if (first === undefined) return [{ path: [], message: `says no energy; give one of ${FORMS.join(', ')}` }]
    if (second !== undefined)
      return [{ path: [second], message: `"${second}" and "${first}" both state the energy; keep one` }]
    if (first !== 'monthly_kwh') return [notYet(first)]
    const sum = generation.monthly_kwh?.reduce((total, kwh) => total + kwh, 0) ?? 0
    return sum > 0
      ? []
      : [{ path: ['monthly_kwh'], message: 'found twelve zeros; allowed: at least one month above 0 kWh' }]
  },
)

/** What the roof gives, as written. */
export type GivenGeneration = z.output<typeof generationBlock>

function notYet(form: string): Flaw {
  return { path: [form], message: `"${form}" is not available yet; give twelve monthly_kwh instead` }
}
