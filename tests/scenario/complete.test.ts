import { describe, expect, test } from 'vitest'
import { modesAt } from '../../src/scenario/failure-at.ts'
import type { Scenario } from '../../src/scenario/model.ts'
import { middle } from '../../src/scenario/quantity.ts'
import { readScenario } from '../../src/scenario/read-scenario.ts'
import { changed, PLAIN } from './plain-scenario.ts'

const read = (text: string) => readScenario(text, 'my roof.yaml', '.')
const names = (scenario: Scenario) => scenario.unknowns.map(unknown => unknown.name)
const first = (scenario: Scenario) => scenario.options[0]!.populations[0]!
const listed = (scenario: Scenario, key: string) => scenario.assumptions.find(value => value.key === key)
const component = (text: string) => changed('        ac_kw: 5\n', `        ac_kw: 5\n${text}`)

describe('gaps are filled key by key', () => {
  test('what is given stays, what is missing comes from the row of kind and tier', () => {
    const scenario = read(component('        tier: budget\n        downtime: {repair_days: 1}\n'))
    const population = first(scenario)
    expect(population.repair).toEqual({ medianDays: 1, p90OverMedian: 1 })
    expect(population.respond.medianDays).toBe(10)
    expect(population.respond.p90OverMedian).toBeCloseTo(5, 10)
    expect(population.warranty.years).toBe(10)
    expect(middle(population.warranty.claimSuccess)).toBe(0.85)
    expect(listed(scenario, 'String / string-inverter / warranty.years')).toMatchObject({ value: 10, known: 'yours' })
    expect(listed(scenario, 'String / string-inverter / warranty.claim_success')).toMatchObject({
      value: 0.85,
      known: 'judgement',
    })
  })

  test('every option, site and money value is listed with a source', () => {
    const scenario = read(PLAIN)
    for (const value of scenario.assumptions) expect(value.source, value.key).not.toBe('')
    expect(listed(scenario, 'site.generation.degradation')).toMatchObject({ value: 0.007, low: 0.004, high: 0.012 })
    expect(listed(scenario, 'discount_rate')).toMatchObject({ value: 0.03, known: 'judgement' })
  })

  test('defaults: horizon 25, January, EUR, title of the file', () => {
    const scenario = read(changed('title: Plain\n', ''))
    expect(scenario).toMatchObject({ title: 'my roof', horizonYears: 25, startMonth: 1, currency: 'EUR', start: null })
  })

  test('exit rates keep the proportions of the range 1.5 to 6 % around 3 %', () => {
    const exit = read(component('        tier: budget\n')).options[0]!.warrantyProvider.exitRatePerYear
    expect(exit).toMatchObject({ middle: 0.05, scale: 'log' })
    expect(exit).toHaveProperty('low', expect.closeTo(0.015 * (5 / 3), 10))
    expect(exit).toHaveProperty('high', expect.closeTo(0.06 * (5 / 3), 10))
  })

  test('prices come from evidence only with a factor, per kW times the rating', () => {
    const scenario = read(
      changed('        replacement: {parts: 900, labour: 260}\n', '').replace(
        'title: Plain',
        'prices_from_evidence: {factor: 0.5}',
      ),
    )
    const { prices } = first(scenario)
    expect(middle(prices.parts)).toBe(180 * 5 * 0.5)
    expect(middle(prices.labour)).toBe(150)
    expect(listed(scenario, 'String / string-inverter / replacement.parts')?.source).toMatch(/180 USD × 5 kW × 0.5$/)
    expect(scenario.notes.map(note => note.code)).toContain('prices-from-evidence')
  })

  test('annual_kwh rescales the twelve', () => {
    const scenario = read(changed('generation: {', 'generation: {annual_kwh: 12880, '))
    expect(scenario.site.generation.form === 'monthly' && scenario.site.generation.monthlyKwh[0]).toBeCloseTo(500, 10)
  })

  test('a key with nothing after it counts as left out', () => {
    expect(read(changed('title: Plain', 'title:')).title).toBe('my roof')
    expect(read(changed('title: Plain', 'tier_effect: null')).tierEffect).toBeNull()
  })

  test('HTML and spreadsheet formulas in names are plain text', () => {
    const name = '=SUM(A1)<script>alert(1)</script>'
    expect(read(changed('name: String', `name: "${name}"`)).options[0]?.name).toBe(name)
  })

  test('options are lettered A, B, …, Z, AA', () => {
    const option = (index: number) =>
      `  - {name: o${index}, topology: string, upfront_cost: 1, components: [{kind: string-inverter, replacement: {parts: 1, labour: 1}}]}\n`
    const scenario = read(`${PLAIN}${Array.from({ length: 25 }, (_, index) => option(index)).join('')}`)
    expect([0, 1, 25, 26].map(index => scenario.options[index]?.id)).toEqual(['A', 'B', 'Z', 'AA'])
  })
})

describe('failure and the spread between models (M4, U1b)', () => {
  test('evidence: spread 0.5, wear-out life solved, no range on life and chance rate', () => {
    const { failure } = first(read(PLAIN))
    expect(failure.modelSpread).toBe(0.5)
    expect(failure.source).toMatchObject({
      form: 'evidence',
      wearLifeYears: null,
      chanceRatePerYear: 0.013,
      anchorAgeYears: 15,
      row: { anchorShare: 0.343 },
      plainRow: null,
      wearShape: { low: 2.5, middle: 3.5, high: 4.5, scale: 'log' },
      earlyShare: { low: 0.005, middle: 0.013, high: 0.03, scale: 'logit' },
    })
  })

  test('J4: a DC isolator fails early and by chance, never wears out, sits on the roof and is never filled in unasked', () => {
    const without = read(PLAIN)
    expect(without.options.flatMap(({ populations }) => populations.map(({ kind }) => kind))).not.toContain(
      'dc-isolator',
    )
    expect(without.notes.find(({ code }) => code === 'no-dc-isolator')?.text).toContain(
      'None is counted for String (A);',
    )
    const listed = changed(
      '        warranty: {years: 10, labour_years: 2}\n',
      '        warranty: {years: 10, labour_years: 2}\n      - {kind: dc-isolator, replacement: {parts: 70, labour: 90}}\n',
    )
    const scenario = read(listed)
    expect(scenario.notes.map(({ code }) => code)).not.toContain('no-dc-isolator')
    const isolator = scenario.options[0]?.populations[1]
    expect(isolator).toMatchObject({ onRoof: true, needsVisit: true, takesStringDown: 1 })
    const scores = new Float64Array(scenario.unknowns.length)
    const modes = isolator === undefined ? [] : modesAt(isolator.failure, scores, 1)
    expect(modes).toMatchObject([
      { cause: 'early', susceptible: 0.024, shape: 0.7, lifeYears: 1 },
      { cause: 'chance', susceptible: 1, shape: 1, lifeYears: 200 },
    ])
  })

  test('a battery needs only its price', () => {
    const battery = changed(
      '        warranty: {years: 10, labour_years: 2}\n',
      '        warranty: {years: 10, labour_years: 2}\n      - {kind: battery, replacement: {parts: 4000, labour: 300}}\n',
    )
    const scenario = read(battery)
    const population = scenario.options[0]?.populations[1]
    expect(population?.failure).toMatchObject({
      modelSpread: 0.8,
      source: { form: 'evidence', row: { anchorShare: 0.343 } },
    })
    expect(population?.warranty.years).toBe(10)
    for (const { key, known } of scenario.assumptions)
      if (/ battery .*(early.susceptible|chance.rate|anchor.share|warranty.years)/.test(key))
        expect(known, key).toBe('judgement')
  })

  test('evidence with spread 0: life and chance rate carry their ranges, no multiplier is drawn', () => {
    const scenario = read(component('        failure: {model_spread: 0}\n'))
    expect(first(scenario).failure.source).toMatchObject({
      wearLifeYears: { low: 19, middle: 23.4, high: 30 },
      chanceRatePerYear: { low: 0.005, middle: 0.013, high: 0.03 },
    })
    expect(scenario.models[0]?.multiplier).toBeNull()
  })

  test('plain numbers keep the spread of 0.5; a range or a given spread takes its place', () => {
    const spread = (failure: string) => first(read(component(`        failure: ${failure}\n`))).failure.modelSpread
    expect(spread('{shape: 2, characteristic_life_years: 15}')).toBe(0.5)
    expect(spread('{shape: 2, characteristic_life_years: {low: 11, high: 17}}')).toBe(0)
    expect(spread('{failed_by: {10: 12%, 15: {low: 20%, high: 40%}}}')).toBe(0)
    expect(spread('{shape: 2, characteristic_life_years: {low: 11, high: 17}, model_spread: 0.3}')).toBe(0.3)
    expect(spread('{shape: 2, b10_years: 5, bad_batch: {chance: {low: 1%, high: 5%}}}')).toBe(0.5)
  })

  test('the bad batch of the evidence stays under a failure of your own; chance 0 takes it away', () => {
    const batch = (failure: string) => first(read(component(`        failure: ${failure}\n`))).failure.badBatch
    expect(batch('{shape: 2, b10_years: 5}')).toMatchObject({ lifeTimes: 0.35, chance: { middle: 0.04 } })
    expect(batch('{bad_batch: {chance: 0}}')).toBeNull()
  })

  test('every form of life is read', () => {
    const life = (failure: string) => {
      const { source } = first(read(component(`        failure: ${failure}\n`))).failure
      return source.form === 'stated' ? source.modes.map(mode => mode.life) : []
    }
    expect(life('{shape: 2, characteristic_life_years: 15}')).toEqual([{ form: 'life', shape: 2, lifeYears: 15 }])
    expect(life('{shape: 2, b10_years: 5}')).toEqual([{ form: 'b10', shape: 2, b10Years: 5 }])
    expect(life('{shape: 2, mean_life_years: 14}')).toEqual([{ form: 'mean', shape: 2, meanYears: 14 }])
    expect(life('{failed_by: {15: 35%, 10: 12%}}')).toEqual([
      {
        form: 'failed-by',
        shape: null,
        points: [
          { ageYears: 10, share: 0.12 },
          { ageYears: 15, share: 0.35 },
        ],
      },
    ])
    expect(
      life('{modes: [{cause: fan, shape: 2, b10_years: 5}, {cause: relay, shape: 3, mean_life_years: 9}]}'),
    ).toHaveLength(2)
  })

  test('U1a: the ± shares of one failed_by share one unknown', () => {
    const scenario = read(
      component('        failure: {failed_by: {10: {low: 8%, high: 18%}, 15: {low: 25%, high: 45%}}}\n'),
    )
    expect(names(scenario).filter(name => name.includes('failed_by'))).toEqual(['String / 0 / failure.failed_by'])
  })

  test('populations of one model share multiplier, age and the unknowns of failure, whichever option they are in', () => {
    const failure = '        failure: {shape: {low: 1.5, high: 3}, mean_life_years: 14, model_spread: 0.4}\n'
    const second = `  - name: Third\n    topology: string\n    upfront_cost: 1\n    components:\n      - kind: string-inverter\n        model: m1\n        age_years: 4\n${failure}        replacement: {parts: 900, labour: 260}\n`
    const scenario = read(`${component(`        model: m1\n${failure}`)}${second}`)
    expect(scenario.models.find(model => model.name === 'm1')?.oldestAgeYears).toBe(4)
    expect(names(scenario).filter(name => name.includes('failure.shape'))).toEqual(['model m1 / failure.shape'])
    expect(names(scenario).filter(name => name === 'model_spread m1')).toHaveLength(1)
  })
})

describe('what is not known (U1)', () => {
  test('one unknown an evidence kind and key, shared by options and tiers', () => {
    const robust = `  - name: Robust\n    topology: string\n    upfront_cost: 1\n    components: [{kind: string-inverter, tier: robust, replacement: {parts: 1, labour: 1}}]\n`
    const scenario = read(`${PLAIN}${robust}`)
    const key = 'evidence string-inverter failure wear_out shape'
    expect(names(scenario).filter(name => name === key)).toHaveLength(1)
    const shape = (option: number) => {
      const { source } = scenario.options[option]!.populations[0]!.failure
      return source.form === 'evidence' ? source.wearShape : null
    }
    expect(shape(2)).toEqual(shape(0))
  })

  test('names do not change when options are added or reordered', () => {
    const [head, string, panel] = PLAIN.split(/(?=^ {2}- name)/m)
    const before = names(read(PLAIN))
    expect(names(read(`${head}${panel}${string}`)).sort()).toEqual([...before].sort())
    const more = names(read(`${PLAIN}${string!.replace('name: String', 'name: Another')}`))
    expect(before.filter(name => !more.includes(name))).toEqual([])
  })

  test('ranges of one name move together, each with its own bounds', () => {
    const scenario = read(
      changed(
        'parts: 900, labour: 260',
        'parts: {low: 800, high: 1000, name: dear}, labour: {low: 200, high: 300, name: dear}',
      ),
    )
    const { prices } = first(scenario)
    expect(names(scenario).filter(name => name === 'dear')).toHaveLength(1)
    expect(prices.parts).toMatchObject({ unknown: names(scenario).indexOf('dear'), low: 800 })
    expect(prices.labour).toMatchObject({ unknown: names(scenario).indexOf('dear'), low: 200 })
  })

  test('the middle is the value, or that of the scale: root, logits, mean', () => {
    const parts = (range: string) => middle(first(read(changed('parts: 900', `parts: ${range}`))).prices.parts)
    expect(parts('{low: 400, high: 900}')).toBeCloseTo(600, 9)
    expect(parts('{value: 700, low: 400, high: 900}')).toBe(700)
    const growth = read(changed('call_out: 140', 'call_out: 140, labour_growth: {low: -1%, high: 2%}')).visit
      .labourGrowth
    expect(middle(growth)).toBeCloseTo(0.005, 12)
    const claims = first(read(changed('labour_years: 2', 'labour_years: 2, claim_success: {low: 50%, high: 90%}')))
    expect(middle(claims.warranty.claimSuccess)).toBeCloseTo(0.75, 12)
  })

  test('no labour cover anywhere: the installer’s exit is not drawn', () => {
    const exit = 'evidence labour_provider exit_rate_per_year'
    expect(names(read(PLAIN))).toContain(exit)
    const none = changed('warranty: {years: 10, labour_years: 2}', 'warranty: {years: 10, labour_years: 0}').replace(
      '        replacement: {parts: 150, labour: 90}\n',
      '        replacement: {parts: 150, labour: 90}\n        warranty: {labour_years: 0}\n',
    )
    const scenario = read(none)
    expect(names(scenario)).not.toContain(exit)
    expect(scenario.options[0]?.labourProvider.exitRatePerYear).toBe(0.07)
  })

  test('nobody on the roof: roof access is not drawn; one unit only: no further labour is drawn', () => {
    const ranges = 'roof_access: {low: 40, high: 80}'
    const alone = PLAIN.slice(0, PLAIN.indexOf('  - name: Panel'))
    const wall = alone
      .replace('roof_access: 60', ranges)
      .replace('labour: 260', 'labour: 260, labour_each_further: {low: 50, high: 90}')
    expect(names(read(wall)).filter(name => /roof_access|each_further/.test(name))).toEqual([])
    expect(names(read(changed('roof_access: 60', ranges)))).toContain('visit.roof_access')
  })

  test('O2: with monitoring built in, the unmonitored time is not drawn', () => {
    const text = component(
      '        downtime: {detect_days_unmonitored: {low: 20, high: 80}, detect_days: {low: 1, high: 5}}\n',
    )
    expect(names(read(text)).filter(name => name.includes('detect'))).toEqual(['String / 0 / downtime.detect_days'])
    const none = read(text.replace('    upfront_cost: 6900\n', '    upfront_cost: 6900\n    monitoring: none\n'))
    expect(names(none).filter(name => name.includes('detect'))).toEqual([
      'String / 0 / downtime.detect_days_unmonitored',
    ])
  })

  test('U1c: the tier effect is drawn only where another tier’s failures come from evidence', () => {
    expect(read(PLAIN).tierEffect).toBeNull()
    expect(read(PLAIN).notes.map(note => note.code)).toContain('no-tier-gap')
    const robust = read(component('        tier: robust\n'))
    expect(robust.unknowns.find(unknown => unknown.name === 'tier_effect')).toMatchObject({
      kind: 'uniform',
      middle: 1,
    })
    expect(first(robust).failure.source).toMatchObject({
      plainRow: { anchorShare: 0.343 },
      row: { anchorShare: 0.239 },
    })
    const own = read(component('        tier: robust\n        failure: {shape: 2, b10_years: 6}\n'))
    expect(own.tierEffect).toBeNull()
    expect(read(component('        tier: robust\n').replace('title: Plain', 'tier_effect: 0')).tierEffect).toEqual({
      fixed: 0,
    })
  })

  test('every index of a quantity points at its unknown', () => {
    const scenario = read(PLAIN)
    const seen = new Set<number>()
    visit(scenario.options, seen)
    visit([scenario.site, scenario.visit], seen)
    for (const model of scenario.models) if (model.multiplier !== null) seen.add(model.multiplier)
    expect([...seen].sort((a, b) => a - b)).toEqual(scenario.unknowns.map((_, index) => index))
  })
})

describe('notes (stable codes)', () => {
  const codes = (text: string) => read(text).notes.map(note => note.code)

  test('what is left out and matters is said', () => {
    expect(codes(PLAIN)).toEqual(
      expect.arrayContaining(['no-successor-surcharge', 'labour-each-further', 'design-losses-not-given']),
    )
    expect(codes(component('        age_years: 5\n'))).toContain('survivors-not-counted')
    expect(codes(component('        age_years: 5\n        failure: {none_failed_so_far: true}\n'))).not.toContain(
      'survivors-not-counted',
    )
    expect(codes(changed('  panels: 20', '  panels: 20\n  network: {export_limit_kw: 5}'))).toContain(
      'export-limit-not-played',
    )
    expect(codes(changed('    upfront_cost: 6900', '    includes: [switchboard]\n    upfront_cost: 6900'))).toContain(
      'only-one-includes',
    )
    expect(codes(changed('  panels: 20', '  panels: 20\n  network: {ac_limit_kw_per_phase: 4}'))).toContain(
      'over-ac-limit',
    )
  })
})

function visit(value: unknown, seen: Set<number>): void {
  if (typeof value !== 'object' || value === null) return
  if ('unknown' in value && typeof value.unknown === 'number') seen.add(value.unknown)
  for (const child of Object.values(value)) visit(child, seen)
}
