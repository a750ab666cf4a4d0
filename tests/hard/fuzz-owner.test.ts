import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { decided, fitOwner, placedTickets, readOwner, recordsOf } from '../fitting/register/read-owner.ts'
import { FuzzRun, LONG } from './fuzz-run.ts'

const fuzz = new FuzzRun('owner files')

const day = fc.oneof(
  {
    weight: 12,
    arbitrary: fc
      .tuple(fc.integer({ min: 2008, max: 2025 }), fc.integer({ min: 1, max: 12 }), fc.integer({ min: 1, max: 28 }))
      .map(([year, month, date]) => `${year}-${String(month).padStart(2, '0')}-${String(date).padStart(2, '0')}`),
  },
  {
    weight: 1,
    arbitrary: fc.constantFrom(
      '',
      '-',
      '31/12/2015',
      '30.11.2016',
      '3 Mar 2014',
      '2020-02-30',
      'x',
      '43831',
      '9999-12-31',
    ),
  },
)
const name = fc.constantFrom('a', 'b', 'c', 'A ', 's1', 's2', '__proto__', '=1+1', '', '"q,q"')
const text = fc.constantFrom('replaced', 'Replaced again', 'cleaned', '', '"no output, replaced"', '\u001b[31mreplaced')
const register = fc.array(fc.tuple(name, name, day, day), { maxLength: 12 })
const tickets = fc.array(fc.tuple(name, day, fc.oneof(fc.constant(''), day), text), { maxLength: 25 })
const layout = fc.constantFrom('unit,serial', 'place,unit', 'site,unit')

describe('N5 no register and tickets break the reading: a message, or every ticket in one count and every row read again', () => {
  test('rows of any names and days', LONG, async () => {
    await fc.assert(
      fc.asyncProperty(register, tickets, layout, fc.boolean(), async (units, told, head, skipBadRows) => {
        const first = [`${head},in_service,retired`, ...units.map(row => row.join(','))].join('\n')
        const second = ['unit,date,closed,text', ...told.map(row => row.join(','))].join('\n')
        await fuzz.try(`${first}\n\n${second}`, String(skipBadRows), async () => {
          const files = await readOwner(first, second, { failedWhen: 'replaced', skipBadRows })
          expect(placedTickets(files)).toBe(decided(files, 'ticket-rows'))
          const ends = ['successors-started', 'successors-listed', 'no-successor']
          expect(ends.reduce((sum, code) => sum + decided(files, code), 0)).toBe(decided(files, 'ticket-failures'))
          for (const life of files.lives) expect(life.to).toBeGreaterThanOrEqual(life.from)
          const records = await recordsOf(files)
          expect(records.nLines).toBe(files.lives.length)
          expect(records.groups.every(({ nOverlapping }) => nOverlapping === 0)).toBe(true)
          await fitOwner(files)
          return 'fitted'
        })
      }),
      fuzz.settings(60),
    )
    expect(fuzz.ended.fitted).toBeGreaterThan(0)
  })
})
