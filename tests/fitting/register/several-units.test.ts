import { describe, expect, it } from 'vitest'
import { dayNumber, dayText } from '../../../src/fitting/records/dates.ts'
import { openStream, streamKey } from '../../../src/numerics/random/streams.ts'
import { inServiceCsv } from '../../../src/report/fit/in-service-csv.ts'
import { decided, fitOwner, placedTickets, readOwner, recordsOf } from './read-owner.ts'

const day = (text: string): number => dayNumber(text) ?? Number.NaN
const TODAY = { today: day('2024-12-31') }

describe('N5 rows of several units', () => {
  const register = 'unit,in_service,retired,count\nA,2010-01-01,,3\nB,2012-01-01,,\nC,2011-01-01,2020-01-01,2\n'

  it('each failure is of one that has not failed; the others are one row with a count', async () => {
    const tickets = 'unit,date,closed\nA,2015-03-01,2015-03-20\nA,2015-03-25,\nA,2019-06-01,2019-06-02\nC,2013-01-01,\n'
    const files = await readOwner(register, tickets, TODAY)
    const shown = files.lives.map(({ place, slot, count, from, to, failed }) =>
      [place, slot, count, dayText(from), dayText(to), failed ? 'failed' : 'working'].join(' '),
    )
    expect(shown).toEqual([
      'A 1 1 2010-01-01 2015-03-01 failed',
      'A 1 1 2015-03-25 2024-12-31 working',
      'A 2 1 2010-01-01 2019-06-01 failed',
      'A 2 1 2019-06-02 2024-12-31 working',
      'A 0 1 2010-01-01 2024-12-31 working',
      'B 0 1 2012-01-01 2024-12-31 working',
      'C 1 1 2011-01-01 2013-01-01 failed',
      'C 1 1 2013-01-01 2020-01-01 working',
      'C 0 1 2011-01-01 2020-01-01 working',
    ])
    expect(decided(files, 'ticket-same-outage')).toBe(1)
    expect(decided(files, 'register-several')).toBe(2)
    expect(decided(files, 'lives')).toBe(9)
    expect(placedTickets(files)).toBe(4)
    const [group] = (await recordsOf(files)).groups
    expect([group?.nOverlapping, group?.nOutOfOrder]).toEqual([0, 0])
    expect(inServiceCsv(files.inService)).toBe('id,count,install_date\nA,3,2010-01-01\nB,1,2012-01-01\n')
  })

  it('a count that is none, and a serial number for several, are errors', async () => {
    const error = (text: string): Promise<string> => readOwner(text, 'unit,date\n', TODAY).then(String, String)
    expect(await error('unit,in_service,count\nA,2010-01-01,1.5\n')).toContain(
      '"1.5" is no number of units; write a whole number from 1 to 2000, or leave it empty for 1',
    )
    expect(await error('unit,serial,in_service,count\nA,S1,2010-01-01,2\n')).toContain(
      '2 units have the one name "S1"; give each a row of its own',
    )
  })

  // 150 roofs of 20 units as 150 units: the characteristic life came to 4 years, where it is 40
  it('the truth of units is found behind roofs', async () => {
    const truth = { shape: 1.5, lifeYears: 40 }
    const [roofs, units, years] = [150, 20, 10]
    const start = day('2014-12-31')
    const stream = openStream(streamKey(5, 'several units'), 0)
    const tickets: string[] = []
    for (let roof = 0; roof < roofs; roof++)
      for (let unit = 0; unit < units; unit++)
        for (let age = 0; ; ) {
          age += truth.lifeYears * stream.exponential() ** (1 / truth.shape)
          if (age >= years) break
          tickets.push(`R${roof},${dayText(start + Math.floor(365 * age))}`)
        }
    const rows = Array.from({ length: roofs }, (_, roof) => `R${roof},2014-12-31,${units}`)
    const files = await readOwner(
      ['unit,in_service,count', ...rows, ''].join('\n'),
      ['unit,date', ...tickets, ''].join('\n'),
      { ...TODAY, sameOutageDays: 0 },
    )
    const fit = await fitOwner(files)
    const { shape, characteristicLife } = fit.groups[0]?.models.find(({ name }) => name === 'weibull')?.parameters ?? {}
    const within = (range: readonly (number | null)[] | undefined, value: number): boolean =>
      (range?.[0] ?? Infinity) < value && value < (range?.[1] ?? 0)
    expect(within(shape?.profile95, truth.shape)).toBe(true)
    expect(within(characteristicLife?.profile95, truth.lifeYears)).toBe(true)
  })
})
