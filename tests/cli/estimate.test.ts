import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, describe, expect, test, vi } from 'vitest'
import type { Results } from '../../src/analysis/results.ts'
import { runEstimate } from '../../src/cli/commands/run-estimate.ts'
import { UsageError } from '../../src/errors.ts'
import { PLAIN } from '../scenario/plain-scenario.ts'
import { run } from './run.ts'

const FOLDER = mkdtempSync(join(tmpdir(), 'lifetally-estimate-'))
afterAll(() => rmSync(FOLDER, { recursive: true }))
const EXAMPLES = readdirSync('examples').filter(name => name.endsWith('.yaml'))
const FILES = [
  'comparisons.csv',
  'made-from.txt',
  'report.html',
  'reserve.csv',
  'results.json',
  'sheet.html',
  'yearly.csv',
]

/** Keys of results.json as they are promised: words in a row; below a word its own keys; `[` a list of blocks. */
type Keys = { readonly [key: string]: Keys | null }
const words = (text: string): Keys => Object.fromEntries(text.split(' ').map(word => [word, null]))
const estimate = words('mean standardError')
const checked: Keys = { ...estimate, ...words('exactMean zScore') }
const costs = words('upfront yearly parts labour visits warranty outageEnergy designEnergy batteryOutage residual')
const OPTION: Keys = {
  ...words('id name topology surcharges failuresByYear daysWithoutBackup'),
  lifetimeCost: {
    ...estimate,
    ...words('p5 p10 p50 p90 p95 worstTenthMean'),
    standardErrors: words('p5 p10 p50 p90 p95 worstTenthMean'),
  },
  costs,
  costStandardErrors: costs,
  totals: words('acquisition ownership withoutLostEnergy'),
  visitShares: words('none one twoOrMore'),
  billYears10To15: { p90: null, standardErrors: { p90: null } },
  withStraightLine: words('mean'),
  failures: { ...checked, atLeastOneByYear: null },
  populations: {
    ...words('kind count checked'),
    failures: checked,
    firstFailures: null,
    plannedReplacements: words('mean'),
  },
  visits: estimate,
  downtimeDays: words('mean'),
  availability: words('timeBased energyWeighted'),
  energy: {
    ...words('idealKwh deliveredKwh costPerDeliveredKwh idealByMonthKwh deliveredByMonthKwh'),
    designLossKwh: words('clipping shadeAndMismatch conversion exportLimit'),
    outageLossKwh: { ...estimate, p90: null, standardErrors: { p90: null } },
  },
  outOfPocket: estimate,
  cashByYear: words('mean'),
  cumulativeCash: words('p50 p80 p90 p95'),
  largestYear: { ...words('p50 p90'), standardErrors: words('p50 p90') },
  reserve: {
    ...words('confidence contributionPerYear contributionPerMonth chanceShort meanShortfall firstShortYear'),
    ...words('fullyFundedBalance percentFunded readyAhead fixedInMoney'),
    contributionAt: words('50 80 90'),
  },
  balanceByYear: words('p10 p50 p90'),
  coverByYear: words('paper effective'),
  replacementAge: words('ages cost best gain'),
  waitingPolicy: words('waitForUnits waitAtMostDays cost best saves'),
  countedAlike: words('visitAtOnce perfectMonitoring draws'),
  coverInAll: words('paper effective firstYears'),
  coverByComponent: words('component years paper effective firstYears'),
  variance: words('chanceShare unknownShare judgementShare'),
}
const RESULTS: Keys = {
  ...words('seed draws errorShare blocks parameterSets'),
  tool: words('name version'),
  scenario: words('title currency horizonYears discountRate'),
  inputs: words('key value low high unit source known'),
  options: OPTION,
  comparisons: words(
    'option against meanDifference standardError interval90 chanceBetterOnAverage chanceCheaper breakEvenPremium breakEvenInterval90 verdict aheadFromYear varianceShares withTierEffect0',
  ),
  warrantySweep: {
    ...words('option component years outOfPocketMean outOfPocketIfProviderStays worth otherComponents'),
    offers: words('years price worth verdict'),
  },
  switchPoints: words('input option value low high differenceThere standardError'),
  swings: words('input option low high costAtLow costAtHigh differenceAtLow differenceAtHigh'),
  drivers: words('input share'),
  notes: words('code text option'),
}

/** Paths of keys that are missing; nothing is checked below null and in empty lists. */
function missing(value: unknown, keys: Keys, path: string): string[] {
  if (value === null) return []
  if (Array.isArray(value)) return value.flatMap((item, i) => missing(item, keys, `${path}.${i}`))
  if (typeof value !== 'object') return [path]
  const held = new Map<string, unknown>(Object.entries(value))
  return Object.entries(keys).flatMap(([key, below]) => {
    const at = `${path}.${key}`
    if (!held.has(key)) return [at]
    return below === null ? [] : missing(held.get(key), below, at)
  })
}

/** Lists by year and by month with their lengths. */
function lengths(option: Record<string, unknown>, years: number): void {
  // typed as the keys above say; the test of keys ran before
  const { failures, cashByYear, cumulativeCash, balanceByYear, coverByYear, reserve, energy } = option as Record<
    string,
    Record<string, unknown[]>
  >
  const byYear = [
    option.failuresByYear,
    reserve?.readyAhead,
    ...[cashByYear, cumulativeCash, balanceByYear, coverByYear].flatMap(block => Object.values(block ?? {})),
  ]
  for (const list of byYear) expect(list).toHaveLength(years)
  expect(failures?.atLeastOneByYear).toHaveLength(years + 1)
  expect(failures?.atLeastOneByYear?.[0]).toBe(0)
  expect([energy?.idealByMonthKwh?.length, energy?.deliveredByMonthKwh?.length]).toEqual([12, 12])
}

/** C7: the lines of the lifetime cost add up to it, energy lost and delivered to the ideal; X1: failures as computed. */
function sums(option: Results['options'][number]): void {
  const total = (lines: readonly number[]) => lines.reduce((sum, line) => sum + line, 0)
  expect(total(Object.values(option.costs)) / option.lifetimeCost.mean).toBeCloseTo(1, 9)
  const { deliveredKwh, designLossKwh, outageLossKwh, idealKwh } = option.energy
  const accounted = deliveredKwh + outageLossKwh.mean + total(Object.values(designLossKwh))
  expect(accounted / idealKwh).toBeCloseTo(1, 9)
  for (const { failures, firstFailures } of option.populations)
    for (const { zScore } of [failures, firstFailures]) expect(Math.abs(zScore ?? 0)).toBeLessThan(4.5)
}

describe('the examples', () => {
  test.each(EXAMPLES)('§7: %s is played, and results.json has every key', async name => {
    const out = join(FOLDER, name)
    await runEstimate(join('examples', name), { draws: '200', out, quiet: true })
    expect(readdirSync(out).sort()).toEqual(FILES)
    const results = JSON.parse(readFileSync(join(out, 'results.json'), 'utf8'))
    expect(missing(results, RESULTS, 'results')).toEqual([])
    expect([results.seed, results.draws, results.tool.name]).toEqual([1, 200, 'lifetally'])
    const ids = results.options.map((option: { id: string }) => option.id)
    expect(ids).toEqual(['A', 'B', 'C', 'D', 'E', 'F'].slice(0, ids.length))
    expect(results.comparisons).toHaveLength((ids.length * (ids.length - 1)) / 2)
    for (const option of results.options) {
      lengths(option, results.scenario.horizonYears)
      sums(option)
    }
    for (const sweep of results.warrantySweep) expect(sweep.years).toHaveLength(results.scenario.horizonYears + 1)
    const report = readFileSync(join(out, 'report.html'), 'utf8')
    expect(report).not.toMatch(/undefined|NaN|\[object/)
  })

  test('§7: the key list would find a key that is gone', () => {
    expect(missing({ tool: {} }, { tool: words('name version') }, 'results')).toEqual([
      'results.tool.name',
      'results.tool.version',
    ])
    expect(missing([{ a: 1 }, {}], words('a'), 'x')).toEqual(['x.1.a'])
  })
})

describe('lifetally estimate', () => {
  test('§3: ends with its answer and its files, for the reader asked for; --json writes the bytes of results.json instead', () => {
    const out = join(FOLDER, 'owner')
    const said = run(['estimate', '-', '--draws', '100', '--out', out, '--for', 'owner'], PLAIN)
    expect({ code: said.code, error: said.error }).toEqual({ code: 0, error: '' })
    const lines = said.out.trimEnd().split('\n')
    expect(lines.slice(-6).map(line => line.trim())).toEqual(
      ['sheet.html', 'report.html', 'results.json', 'yearly.csv', 'reserve.csv', 'comparisons.csv'].map(file =>
        join(out, file),
      ),
    )
    const answer = lines.slice(0, lines.indexOf('Written:'))
    expect(answer.length).toBeLessThanOrEqual(12 + answer.filter(line => /^(Note:| {2}\S)/.test(line)).length)
    expect(Math.max(...answer.map(line => line.length))).toBeLessThanOrEqual(80)
    expect(readdirSync(out).sort()).toEqual(FILES)
    expect(readFileSync(join(out, 'report.html'), 'utf8')).toContain('--for owner')
    const report = readFileSync(join(out, 'report.html'), 'utf8').replace(/\u00a0/g, ' ')
    const money = answer.join(' ').match(/EUR [\d,]*\d/g) ?? []
    expect(money.length).toBeGreaterThan(4)
    // a table of the report has the currency in its heading
    expect(money.filter(amount => !report.includes(amount.slice('EUR '.length)))).toEqual([])
    const json = run(['estimate', '-', '--draws', '100', '--json'], PLAIN)
    expect(json.out).toBe(readFileSync(join(out, 'results.json'), 'utf8'))
    expect(json.error.split('\n')).toEqual([...answer, ''])
  })

  test('§3: --seed changes the results and is named in them; --quiet names its files alone; U1: 81 draws are taken up to 100', async () => {
    const scenario = join(FOLDER, 'plain.yaml')
    writeFileSync(scenario, PLAIN)
    const write = vi.spyOn(process.stdout, 'write')
    const played = async (seed: string, draws: string) => {
      const out = join(FOLDER, `seed-${seed}-${draws}`)
      await runEstimate(scenario, { seed, draws, out, quiet: true })
      return readFileSync(join(out, 'results.json'), 'utf8')
    }
    const [one, same, two] = [await played('1', '100'), await played('1', '81'), await played('2', '100')]
    const names = write.mock.calls.map(([text]) => String(text))
    expect(names.join('')).toMatch(/^(\S+(sheet\.html|report\.html|results\.json|\.csv)\n){18}$/)
    write.mockRestore()
    expect(same).toBe(one)
    const [first, second] = [JSON.parse(one), JSON.parse(two)]
    expect([first.seed, second.seed, first.draws, second.draws]).toEqual([1, 2, 100, 100])
    expect(second.options[0].lifetimeCost.mean).not.toBe(first.options[0].lifetimeCost.mean)
  })

  test('§3: exit 1 for a bad scenario, with all that is wrong and nothing written', () => {
    const out = join(FOLDER, 'bad')
    const bad = PLAIN.replace('upfront_cost: 6900', 'upfront_cost: -1').replace(
      'topology: panel-level',
      'topology: moon',
    )
    const { code, out: said, error } = run(['estimate', '-', '--out', out], bad)
    expect({ code, said }).toEqual({ code: 1, said: '' })
    expect(error).toContain('options.0.upfront_cost')
    expect(error).toContain('options.1.topology')
    expect(readdirSync(FOLDER)).not.toContain('bad')
  })

  test('§3: exit 2 for wrong usage, on standard error', () => {
    const { code, out, error } = run(['estimate', '-', '--draws', '19'], PLAIN)
    expect({ code, out }).toEqual({ code: 2, out: '' })
    expect(error).toContain('--draws')
  })

  test.each([
    ['draws', 'many'],
    ['draws', '10000001'],
    ['for', 'everyone'],
    ['seed', '-3'],
    ['threads', '0'],
    ['precision', '0'],
    ['precision', '150%'],
    ['points', 'odd'],
  ])('§3: --%s %s is wrong usage, and is named', async (key, value) => {
    const wrong = await runEstimate('-', { [key]: value }).catch((error: unknown) => error)
    expect(wrong).toBeInstanceOf(UsageError)
    expect(String(wrong)).toContain(`--${key}`)
  })
})
