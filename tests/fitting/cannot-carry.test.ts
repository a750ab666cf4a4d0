import { describe, expect, it } from 'vitest'
import { fitRecords } from '../../src/fitting/fit-records.ts'
import type { FitResult } from '../../src/fitting/fit-result.ts'
import type { FitSettings } from '../../src/fitting/fit-settings.ts'
import { readRecords } from '../../src/fitting/records/read-records.ts'
import { fitAnswer } from '../../src/report/fit/answer.ts'
import { renderFitReport } from '../../src/report/fit/render-fit.ts'
import { bytesOf } from './register/read-owner.ts'

const settings: FitSettings = {
  file: 'records.csv',
  tool: { name: 'lifetally', version: '0' },
  ageUnit: 'years',
  seed: 1,
  shape: null,
  prior: null,
  warrantyYears: null,
}

async function fitted(...lines: readonly string[]): Promise<FitResult> {
  const records = await readRecords(bytesOf(`${lines.join('\n')}\n`), {
    file: 'records.csv',
    ageUnit: 'years',
    choice: { named: {}, groupBy: null },
    skipBadRows: false,
    asOfDay: null,
  })
  return fitRecords(records, settings)
}

const text = (fit: FitResult, code: string): string | undefined =>
  fit.warnings.find(warning => warning.code === code)?.text

/** What the answer of the report says, and the terminal. */
const answered = (fit: FitResult): readonly string[] => {
  const page = renderFitReport(fit, 'lifetally fit records.csv')
  return [page.slice(page.indexOf('id="the-answer"'), page.indexOf('class="part"')), fitAnswer(fit).warnings.join('\n')]
}

const GOOD = ['2', '4', '5', '6', '7', '8'].map(age => `${age},failed,1`)

describe('N6 what records cannot support is said in the answer and on the terminal', () => {
  it.each([
    ['none', ['12,working,0'].slice(1), 'No unit is still at work. A list'],
    ['hardly any', ['9,working,1'], 'Only 1 of 31 units is still at work. A list'],
  ])('%s at work', async (_, working, start) => {
    const failed = GOOD.map(row => row.replace(/1$/, '5'))
    const fit = await fitted('end_age,outcome,count', ...failed, ...working)
    expect(text(fit, 'none-at-work')?.startsWith(start)).toBe(true)
    for (const said of answered(fit)) expect(said).toContain('is not a list of units')
  })

  it('units at work in a fair share: nothing said', async () => {
    const fit = await fitted('end_age,outcome,count', ...GOOD, '9,working,3')
    expect(text(fit, 'none-at-work')).toBeUndefined()
  })

  it('hardly any failure', async () => {
    const fit = await fitted('end_age,outcome,count', '3,failed,1', '5,failed,1', '9,working,60')
    for (const said of answered(fit)) expect(said).toContain('The shape is based on 2 failures.')
  })

  it('rows of one unit that overlap in time; successive lives do not', async () => {
    const rows = (third: string) => [
      'unit,in_service,ended,outcome',
      'a,2010-01-01,2014-01-01,failed',
      third,
      'b,2010-01-01,2016-01-01,failed',
      'c,2010-01-01,2017-06-01,failed',
      'd,2010-01-01,2020-01-01,working',
    ]
    const fit = await fitted(...rows('a,2010-01-01,2018-01-01,failed'))
    expect(text(fit, 'overlapping-rows')).toBe(
      '1 unit has rows that overlap in time, as if it had several lives at once. If each row is a ticket, give units and tickets with --register and --tickets.',
    )
    for (const said of answered(fit)) expect(said).toContain('overlap in time')
    expect(text(await fitted(...rows('a,2014-01-10,2018-01-01,failed')), 'overlapping-rows')).toBeUndefined()
    expect(text(await fitted(...rows('a,2014-01-01,2018-01-01,failed')), 'overlapping-rows')).toBeUndefined()
  })

  it('overlap without dates: a unit watched from an age before the one at which its last row ended', async () => {
    const rows = (start: number) => [
      'unit,start_age,end_age,outcome',
      'a,,5,working',
      `a,${start},8,failed`,
      'b,,4,failed',
      'c,,6,failed',
      'd,,9,working',
    ]
    expect(text(await fitted(...rows(3)), 'overlapping-rows')).toBeDefined()
    expect(text(await fitted(...rows(5)), 'overlapping-rows')).toBeUndefined()
    expect(text(await fitted(...rows(6)), 'overlapping-rows')).toBeUndefined()
  })

  it('a curve that depends on its last few units is reported, with the curve without them; one that does not is not', async () => {
    // A hundred units leave at 4 years with few failures; five go on and fail one after the other.
    const early = Array.from({ length: 12 }, (_, i) => `${(1 + i * 0.25).toFixed(2)},failed,1`)
    const late = ['4.5', '4.8', '5.1', '5.3', '5.5'].map(age => `${age},failed,1`)
    const fit = await fitted('end_age,outcome,count', ...early, '4,working,140', ...late)
    const said = text(fit, 'depends-on-last')
    expect(said).toMatch(
      /^The curve depends on its last few units: beyond 3\.75 years at most 5 were watched\. Without what they show, \d+ % would fail within ten years in place of \d+ %\.$/,
    )
    const { failedByTenYears } = fit.groups[0]?.dependsOnLast ?? { failedByTenYears: Number.NaN }
    const cut = await fitted('end_age,outcome,count', ...early, '3.75,working,145')
    expect(failedByTenYears).toBeCloseTo(cut.groups[0]?.failedBy.find(({ years }) => years === 10)?.estimate ?? 0, 4)
    for (const words of answered(fit)) expect(words).toContain('depends on its last few units')
    const steady = await fitted('end_age,outcome,count', ...early, '4,working,140', '4.5,working,3', '5.5,failed,1')
    expect(text(steady, 'depends-on-last')).toBeUndefined()
  })
})

describe('N6 the band around what was seen', () => {
  it('Greenwood on ln(−ln S): 90 % limits of the first step of ten units, computed by hand', async () => {
    const fit = await fitted('end_age,outcome,count', '2,failed,1', '3,failed,1', '4,failed,1', '5,working,7')
    // S = 0.9, error = 0.9·√(1/(10·9)) = 0.0949; spread 1.6449·0.0949/(0.9·0.10536) = 1.6456.
    const step = fit.groups[0]?.survival[0]
    expect(step?.estimate).toBeCloseTo(0.9, 12)
    expect(step?.low90).toBeCloseTo(0.9 ** Math.exp(1.64559), 4)
    expect(step?.high90).toBeCloseTo(0.9 ** Math.exp(-1.64559), 4)
  })

  it('is drawn with a key; not where failures lie between inspections', async () => {
    const exact = renderFitReport(await fitted('end_age,outcome,count', ...GOOD, '9,working,9'), 'x')
    expect(exact).toContain('range of what was seen, 9 of 10 cases at each age')
    const between = await fitted(
      'failed_after,failed_before,end_age,outcome',
      '1,2,,failed',
      '2,3,,failed',
      '4,5,,failed',
      ',,6,working',
      ',,6,working',
    )
    expect(renderFitReport(between, 'x')).not.toContain('range of what was seen')
  })
})
