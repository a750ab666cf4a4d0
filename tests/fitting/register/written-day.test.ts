import { describe, expect, it } from 'vitest'
import { InputError } from '../../../src/errors.ts'
import { dayNumber, dayText } from '../../../src/fitting/records/dates.ts'
import { readWrittenDay } from '../../../src/fitting/register/written-day.ts'
import { readOwner } from './read-owner.ts'

const day = (text: string) => {
  const read = readWrittenDay(text)
  return read === null ? null : [read.dayMonth, read.monthDay].map(one => (Number.isNaN(one) ? '-' : dayText(one)))
}

describe('N5 dates as people write them', () => {
  it.each([
    ['2021-04-30', ['2021-04-30', '2021-04-30']],
    ['2021-04-30T09:15:00Z', ['2021-04-30', '2021-04-30']],
    ['2021/4/30 09:15', ['2021-04-30', '2021-04-30']],
    ['20210430', ['2021-04-30', '2021-04-30']],
    ['30/04/2021', ['2021-04-30', '-']],
    ['04/30/2021', ['-', '2021-04-30']],
    ['3.4.2021', ['2021-04-03', '2021-03-04']],
    ['3/4/21', ['2021-04-03', '2021-03-04']],
    ['5/5/98', ['1998-05-05', '1998-05-05']],
    ['30 Apr 2021', ['2021-04-30', '2021-04-30']],
    ['30-APR-2021 10:00', ['2021-04-30', '2021-04-30']],
    ['April 30th, 2021', ['2021-04-30', '2021-04-30']],
  ])('%s', (text, days) => expect(day(text)).toEqual(days))

  it.each([
    '20-03-21',
    '31/02/2021',
    '31/31/2021',
    '2021-02-30',
    '1899-01-01',
    '2101-01-01',
    '43831',
    'soon',
    '1/2',
    '30 Avr 2021',
  ])('%s is no date that can be read', text => expect(day(text)).toBeNull())

  it('29 February is a day of leap years only', () => {
    expect(day('29/02/2020')).toEqual(['2020-02-29', '-'])
    expect(day('29/02/2021')).toBeNull()
    expect(dayNumber('2020-02-29')).toBe(18321)
  })
})

const REGISTER = (dates: readonly string[]) =>
  `unit,in_service\n${dates.map((date, i) => `u${i},${date}`).join('\n')}\n`
const TICKETS = 'unit,date\nu0,2022-01-01\n'
const message = async (work: Promise<unknown>): Promise<string> =>
  work.then(
    () => 'no error',
    (error: unknown) => (error instanceof InputError ? error.message : String(error)),
  )

describe('N5 the order of day and month', () => {
  it('a column that fits one order only is read so, all its dates', async () => {
    const { lives, result } = await readOwner(REGISTER(['03/04/2015', '31/12/2016']), TICKETS)
    expect(lives.map(({ from }) => dayText(from))).toContain('2015-04-03')
    expect(result.dateOrders[0]).toEqual({ file: 'register', header: 'in_service', order: 'day-month', from: 'column' })
    const american = await readOwner(REGISTER(['03/04/2015', '12/31/2016']), TICKETS)
    expect(american.lives.map(({ from }) => dayText(from))).toContain('2015-03-04')
  })

  it('a column that fits both is an error that names the option; with the option it is read', async () => {
    expect(await message(readOwner(REGISTER(['2015-01-01', '03/04/2015']), TICKETS))).toBe(
      'units.csv:3  in_service\n  "03/04/2015" may be day-month or month-day, and no date of the column decides it; say --date-order day-month or --date-order month-day',
    )
    const { lives } = await readOwner(REGISTER(['2015-01-01', '03/04/2015']), TICKETS, { dateOrder: 'month-day' })
    expect(lives.map(({ from }) => dayText(from))).toContain('2015-03-04')
  })

  it('dates that are the same either way need no order', async () => {
    expect((await readOwner(REGISTER(['05/05/2015']), TICKETS)).result.dateOrders[0]?.from).toBe('any')
  })

  it('an open column follows the other columns of its file, and the result says so', async () => {
    const { result } = await readOwner('unit,in_service,retired\na,31/12/2014,\nb,01/02/2015,03/04/2020\n', TICKETS)
    expect(result.dateOrders[1]).toEqual({ file: 'register', header: 'retired', order: 'day-month', from: 'file' })
  })

  it('a column with both orders is an error; with the option the others are rows that cannot be read', async () => {
    const both = REGISTER(['2015-01-01', '31/12/2015', '12/31/2015'])
    expect(await message(readOwner(both, TICKETS))).toBe(
      'units.csv:3  in_service\n  "31/12/2015" (line 3) has the day first, "12/31/2015" (line 4) the month; say which is meant with --date-order day-month or month-day, and leave out the others with --skip-bad-rows or correct them',
    )
    expect(await message(readOwner(both, TICKETS, { dateOrder: 'day-month' }))).toBe(
      'units.csv:4  in_service\n  this date does not exist as day-month; correct it, or leave such rows out with --skip-bad-rows',
    )
    const { lives } = await readOwner(both, TICKETS, { dateOrder: 'day-month', skipBadRows: true })
    expect(new Set(lives.map(({ place }) => place))).toEqual(new Set(['u0', 'u1']))
  })
})
