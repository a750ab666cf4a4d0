import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { parse } from 'yaml'
import { run } from './run.ts'

const SMALL = 'end_age,outcome,count\n2,failed,1\n4,failed,1\n5,failed,2\n6,failed,1\n8,failed,1\n9,working,30\n'

describe('lifetally fit', () => {
  let folder: string
  beforeAll(() => {
    folder = mkdtempSync(join(tmpdir(), 'lifetally-fit-'))
  })
  afterAll(() => rmSync(folder, { recursive: true, force: true }))

  test('the example fleet: three files, the truth inside the ranges, the bad batch named', () => {
    const out = join(folder, 'example')
    const {
      code,
      error,
      out: said,
    } = run(['fit', 'examples/service-records.csv', '--warranty-years', '5', '--out', out])
    expect({ code, error }).toEqual({ code: 0, error: '' })
    expect(said.split('\n')).toEqual([
      '330 failures among 1645 units in 3 groups.',
      '  group   units  failed  by ten years  in 9 of 10 cases  mean life',
      '  wall-a  569    152     34 %          31 % to 38 %      12.4 years',
      '  wall-b  386    127     51 %          46 % to 56 %      10.2 years',
      '  roof-c  690    51      8.3 %         6.6 % to 10 %     49.9 years',
      'The groups fail differently; do not mix them.',
      'Note: wall-a, wall-b and roof-c: No unit was watched beyond 16 years. Figures',
      '  for later years are extrapolated.',
      'Note: roof-c: Batch C-07 had 13 failures where 3.3 are expected. They may share',
      '  a fault; fit them separately with --by, or leave them out.',
      'Written:',
      ...['fit.html', 'fit.json', 'failure.yaml'].map(name => `  ${join(out, name)}`),
      '',
    ])
    expect(readdirSync(out).sort()).toEqual(['failure.yaml', 'fit.html', 'fit.json'])
    // The line that makes it again used to name the folder, so that the bytes differed from place to place.
    expect(readFileSync(join(out, 'fit.html'), 'utf8')).not.toContain(folder)
    const fit = JSON.parse(readFileSync(join(out, 'fit.json'), 'utf8'))
    const truth = { 'wall-a': [2.6, 15], 'wall-b': [2.6, 11], 'roof-c': [1.4, 60] }
    for (const [name, [shape, life]] of Object.entries(truth)) {
      const group = fit.groups.find((one: { name: string }) => one.name === name)
      const { parameters } = group.models.find((one: { name: string }) => one.name === group.best)
      expect(parameters.shape.profile95[0]).toBeLessThan(shape!)
      expect(parameters.shape.profile95[1]).toBeGreaterThan(shape!)
      expect(parameters.characteristicLife.profile95[0]).toBeLessThan(life!)
      expect(parameters.characteristicLife.profile95[1]).toBeGreaterThan(life!)
    }
    expect(fit.groups.find((one: { name: string }) => one.name === 'wall-a').best).toBe('weibull+early')
    const stands = fit.warnings.filter((warning: { code: string }) => warning.code === 'batch-stands-out')
    expect(stands.map((warning: { text: string }) => warning.text.slice(0, 10))).toEqual(['Batch C-07'])
    expect(parse(readFileSync(join(out, 'failure.yaml'), 'utf8'))['wall-b']).toEqual({
      failure: { records: 'fit.json#wall-b' },
    })
  })

  test('- reads standard input, --json writes to standard output and the answer to standard error, the same bytes each time', () => {
    const first = run(['fit', '-', '--json'], SMALL)
    expect({ code: first.code, error: first.error }).toEqual({
      code: 0,
      error:
        '6 failures among 36 units.\n  group  units  failed  by ten years  in 9 of 10 cases  mean life\n  all    36     6       20 %          10 % to 33 %      23.6 years\nNote: No unit was watched beyond 9 years. Figures for later years are\n  extrapolated.\n',
    })
    const fit = JSON.parse(first.out)
    expect(fit.groups[0]).toMatchObject({ name: 'all', units: 36, failed: 6, best: 'weibull' })
    expect(fit.ageUnit).toBe('years')
    expect(run(['fit', '-', '--json'], SMALL).out).toBe(first.out)
  })

  test('bad rows: every one by line, exit 1, nothing written; with --skip-bad-rows the rest is fitted', () => {
    const file = join(folder, 'bad.csv')
    writeFileSync(file, `${SMALL}x,failed,1\n3,broke,1\n`)
    const out = join(folder, 'bad')
    const { code, error, out: said } = run(['fit', file, '--out', out])
    expect({ code, said }).toEqual({ code: 1, said: '' })
    expect(error).toBe(
      `${file}:8  end_age\n  "x" is neither a number of years nor a date like 2021-04-30\n${file}:9  outcome\n  "broke" is not known; write failed or working\n`,
    )
    expect(readdirSync(folder)).not.toContain('bad')
    const kept = run(['fit', file, '--out', out, '--skip-bad-rows'])
    expect(kept.code).toBe(0)
    expect(kept.out.replace(/\s+/g, ' ')).toContain(
      '2 of 8 rows could not be read and were left out. The first is line 8: "x" is neither a number of years nor a date like 2021-04-30.',
    )
  })

  test('none failed: exit 1 with the bound', () => {
    const { code, error } = run(['fit', '-', '--shape', '2'], 'end_age,outcome,count\n5,working,20\n')
    expect(code).toBe(1)
    expect(error).toContain('none of the 20 units has failed')
    expect(error).toContain('with shape 2, the characteristic life is over 14.7 years')
  })

  test('--prior takes the evidence on wear-out as the prior and says so; years become the age unit', () => {
    const { code, out } = run(
      ['fit', '-', '--prior', 'string-inverter', '--age-unit', 'days', '--json'],
      'end_age,outcome,count\n1825,working,20\n',
    )
    expect(code).toBe(0)
    const fit = JSON.parse(out)
    // Evidence: shape 2.5 to 4.5, life 19 to 30 years (10 % and 90 % points).
    expect(fit.prior).toEqual({ shape: [2.5, 4.5], life: [19 * 365, 30 * 365] })
    const { shape, characteristicLife } = fit.groups[0].models[0].parameters
    expect(shape.estimate).toBeGreaterThan(2)
    expect(characteristicLife.estimate / 365).toBeGreaterThan(19)
    expect(run(['fit', '-', '--prior', 'string-invertr'], SMALL).code).toBe(2)
  })

  test('wrong words: exit 2 with what is allowed', () => {
    expect(run(['fit', '-', '--age-unit', 'year'], SMALL)).toMatchObject({
      code: 2,
      error: '--age-unit year: write one of hours, days, months, years; did you mean years?\n',
    })
    expect(run(['fit', '-', '--prior-shape', '5..2'], SMALL)).toMatchObject({
      code: 2,
      error: '--prior-shape 5..2: write low..high, e.g. 2..5, with 0 < low < high\n',
    })
    expect(run(['fit', '-', '--column', 'end=x'], SMALL).code).toBe(2)
    expect(run(['fit', join(folder, 'nowhere.csv')])).toMatchObject({
      code: 1,
      error: `${join(folder, 'nowhere.csv')}\n  there is no such file; check the name\n`,
    })
  })

  describe('--register and --tickets (N5)', () => {
    const units =
      'unit,model,install date,retired\n' +
      Array.from({ length: 12 }, (_, i) => `U${i},m,${13 + i}/02/2012,\n`).join('')
    const tickets =
      'unit,opened,closed,description\nU1,2016-05-01,2016-05-20,"replaced, no output"\nU1,2016-05-10,,replaced\nU3,2019-01-01,,Replaced\nU5,2021-01-01,,cleaned\nu7 ,2022-03-01,,replaced\n'
    let files: string[]
    beforeAll(() => {
      files = ['--register', join(folder, 'units.csv'), '--tickets', join(folder, 'tickets.csv')]
      writeFileSync(join(folder, 'units.csv'), units)
      writeFileSync(join(folder, 'tickets.csv'), tickets)
    })

    test('five files, and on the terminal what was decided, each with its count; records.csv gives the same figures', () => {
      const out = join(folder, 'owner')
      const { code, error, out: said } = run(['fit', ...files, '--failed-when', 'replaced', '--out', out])
      expect({ code, error }).toEqual({ code: 0, error: '' })
      expect(readdirSync(out).sort()).toEqual(['failure.yaml', 'fit.html', 'fit.json', 'in-service.csv', 'records.csv'])
      const words = said.replace(/\s+/g, ' ')
      for (const sentence of [
        'Register: rows 12.',
        'Tickets: rows 5, no failure by text 1, same outage 1, failures 3.',
        'In records.csv: units 14, failed 3, working 11, successors started 2, without successor 1.',
        `The watch ends on 2022-03-01, the latest date in the files (${join(folder, 'tickets.csv')}, line 6). Dates: register install date as day-month.`,
        'Note: Taken as failures, the most common texts: 2 × "replaced", 1 × "Replaced"',
        'Note: Names are taken as those of places: one row a name, and units that fail are not retired; if replacements have rows of their own, say --units serials.',
      ]) {
        expect(words).toContain(sentence)
      }
      // At most a dozen lines before the warnings.
      const answer = said.slice(0, said.indexOf('Note:')).trim().split('\n')
      expect(answer.length).toBeLessThanOrEqual(12)
      const fit = JSON.parse(readFileSync(join(out, 'fit.json'), 'utf8'))
      expect(fit.ownerFiles).toMatchObject({ watchEnds: '2022-03-01', namesAre: 'places' })
      const page = readFileSync(join(out, 'fit.html'), 'utf8')
      for (const { text, count } of fit.ownerFiles.decisions) {
        const row = page.slice(page.indexOf(`>${text}</th>`)).split('</tr>', 1)[0]
        expect(
          row
            ?.replace(/<[^>]+>/g, ' ')
            .trim()
            .split(/\s+/)
            .at(-1),
        ).toBe(String(count))
      }
      const again = JSON.parse(run(['fit', join(out, 'records.csv'), '--json', '--quiet']).out)
      expect(again.groups).toEqual(fit.groups)
    })

    test('--today ends the watch and is said; --quiet leaves the names of the files', () => {
      const out = join(folder, 'owner-today')
      const said = run([
        'fit',
        ...files,
        '--failed-when',
        'replaced',
        '--today',
        '2025-12-31',
        '--out',
        out,
        '--quiet',
      ]).out
      expect(said).toBe(
        ['fit.html', 'fit.json', 'failure.yaml', 'records.csv', 'in-service.csv']
          .map(name => `${join(out, name)}\n`)
          .join(''),
      )
      const fit = JSON.parse(readFileSync(join(out, 'fit.json'), 'utf8'))
      expect([fit.ownerFiles.watchEnds, fit.ownerFiles.watchEndsSays]).toEqual(['2025-12-31', 'as --today says'])
    })

    test('texts without --failed-when: exit 2, the common texts, nothing written', () => {
      const out = join(folder, 'owner-none')
      const { code, error } = run(['fit', ...files, '--out', out])
      expect(code).toBe(2)
      expect(error).toContain('  1 × "cleaned"')
      expect(readdirSync(folder)).not.toContain('owner-none')
    })
  })
})
