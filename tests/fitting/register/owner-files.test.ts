import { describe, expect, it } from 'vitest'
import { dayNumber, dayText } from '../../../src/fitting/records/dates.ts'
import { readRecords } from '../../../src/fitting/records/read-records.ts'
import type { OwnerLife } from '../../../src/fitting/register/life-list.ts'
import { readOwnerHeaders } from '../../../src/fitting/register/owner-columns.ts'
import { inServiceCsv } from '../../../src/report/fit/in-service-csv.ts'
import { recordsCsv } from '../../../src/report/fit/records-csv.ts'
import { FAILED_WHEN, inventedOwner } from './invented-owner.ts'
import { bytesOf, decided, fitOwner, placedTickets, readOwner, recordsOf } from './read-owner.ts'

const day = (text: string): number => dayNumber(text) ?? Number.NaN
const shown = ({ lives }: { readonly lives: readonly OwnerLife[] }): string[] =>
  lives.map(({ place, serial, from, to, failed, endSays }) =>
    [
      place,
      ...(serial === '' ? [] : [serial]),
      dayText(from),
      dayText(to),
      failed ? 'failed' : 'working',
      endSays,
    ].join(' '),
  )
const TODAY = { today: day('2024-12-31') }
const error = async (work: Promise<unknown>): Promise<string> =>
  work.then(
    () => 'no error',
    (cause: unknown) => (cause instanceof Error ? cause.message : String(cause)),
  )

describe('N5 a ticket that is a failure ends a unit and starts its successor', () => {
  it('names of places: the successor starts when the outage is over, and works to the end of the watch', async () => {
    const files = await readOwner(
      'unit,model,in_service\nA1,m,2010-01-01\nA2,m,2012-05-01\n',
      'unit,date,closed\nA1,2018-03-01,2018-03-20\n',
      TODAY,
    )
    expect(shown(files)).toEqual([
      'A1 2010-01-01 2018-03-01 failed failed: ticket of line 2',
      'A1 2018-03-20 2024-12-31 working end of the watch',
      'A2 2012-05-01 2024-12-31 working end of the watch',
    ])
    expect(decided(files, 'successors-started')).toBe(1)
  })

  it('tickets of one unit within 14 days of the last day of an outage are that outage; later ones are another failure', async () => {
    const tickets = [
      ['2018-03-01', '2018-03-20'],
      ['2018-04-03', ''], // 14 days after it was closed
      ['2018-04-18', ''], // 15 days after that
    ]
    const files = await readOwner(
      'unit,in_service\nA1,2010-01-01\n',
      `unit,date,closed\n${tickets.map(([date, closed]) => `A1,${date},${closed}`).join('\n')}\n`,
      TODAY,
    )
    expect(shown(files)).toEqual([
      'A1 2010-01-01 2018-03-01 failed failed: ticket of line 2',
      'A1 2018-04-03 2018-04-18 failed failed: ticket of line 4',
      'A1 2018-04-18 2024-12-31 working end of the watch',
    ])
    expect(decided(files, 'ticket-same-outage')).toBe(1)
    const strict = await readOwner('unit,in_service\nA1,2010-01-01\n', 'unit,date\nA1,2018-03-01\nA1,2018-03-11\n', {
      ...TODAY,
      sameOutageDays: 9,
    })
    expect(strict.lives.filter(({ failed }) => failed)).toHaveLength(2)
  })

  it('a ticket left open for over a year does not stretch its outage', async () => {
    const files = await readOwner(
      'unit,in_service\nA1,2010-01-01\n',
      'unit,date,closed\nA1,2015-03-01,2019-03-01\nA1,2017-01-01,\n',
      TODAY,
    )
    expect(files.lives.filter(({ failed }) => failed)).toHaveLength(2)
    expect(decided(files, 'ticket-closed-late')).toBe(1)
  })

  it('places and serial numbers in columns of their own: the next unit of the place is the successor', async () => {
    const files = await readOwner(
      'unit,serial,in_service\nRoof 1,S1,2010-01-01\nRoof 1,S2,2018-04-10\nRoof 2,S3,2011-01-01\n',
      // The unit by serial number, the place in other capitals, and paperwork after the swap.
      'unit,date,text\nS1,2018-03-01,replaced\nroof  1,2018-04-15,replaced\nRoof 2,2020-01-01,replaced\n',
      { ...TODAY, failedWhen: 'replaced' },
    )
    expect(shown(files)).toEqual([
      'Roof 1 S1 2010-01-01 2018-03-01 failed failed: ticket of line 2',
      'Roof 1 S2 2018-04-10 2024-12-31 working end of the watch',
      'Roof 2 S3 2011-01-01 2020-01-01 failed failed: ticket of line 4',
      'Roof 2 2020-01-01 2024-12-31 working end of the watch',
    ])
    expect([decided(files, 'successors-listed'), decided(files, 'successors-started')]).toEqual([1, 1])
  })

  it('a ticket soon after a swap is the failure of the unit that went out', async () => {
    const files = await readOwner(
      'unit,in_service\nA1,2010-01-01\nA1,2018-03-01\n',
      'unit,date\nA1,2018-03-06\n',
      TODAY,
    )
    expect(shown(files)).toEqual([
      'A1 2010-01-01 2018-03-01 failed failed: ticket of line 2',
      'A1 2018-03-01 2024-12-31 working end of the watch',
    ])
    expect(decided(files, 'ticket-late')).toBe(1)
  })

  it('a unit replaced without a ticket is taken to have worked until then', async () => {
    const files = await readOwner(
      'unit,in_service\nA1,2010-01-01\nA1,2018-03-01\n',
      'unit,date\nA1,2020-01-01\n',
      TODAY,
    )
    expect(shown(files)[0]).toBe('A1 2010-01-01 2018-03-01 working replaced without a ticket')
    expect(decided(files, 'replaced-no-ticket')).toBe(1)
  })

  it('names of units: those that fail are retired, and none is succeeded under its name', async () => {
    const register = [
      'unit,in_service,retired',
      'S1,2010-01-01,2018-03-09',
      'S2,2010-01-01,2019-05-01',
      'S3,2010-01-01,',
      'S4,2018-03-10,',
    ]
    const tickets = 'unit,date\nS1,2018-03-01\nS2,2019-05-01\nS3,2020-01-01\n'
    const files = await readOwner(`${register.join('\n')}\n`, tickets, TODAY)
    expect(files.result.namesAre).toBe('serials')
    expect(files.result.namesAreSays).toBe('2 of 3 units that failed are retired with their failure')
    expect(files.lives).toHaveLength(4)
    expect(decided(files, 'no-successor')).toBe(3)
    const places = await readOwner(`${register.join('\n')}\n`, tickets, { ...TODAY, unitsAre: 'places' })
    expect(shown(places)).toContain('S3 2020-01-01 2024-12-31 working end of the watch')
  })

  it('retired units are watched until they go; a ticket soon after is their failure, a later one is of no unit', async () => {
    const files = await readOwner(
      'unit,in_service,retired\nA,2010-01-01,2020-01-01\nB,2010-01-01,2020-01-01\nC,2010-01-01,2020-01-01\n',
      'unit,date\nB,2020-01-10\nC,2020-03-01\n',
      TODAY,
    )
    expect(shown(files)).toEqual([
      'A 2010-01-01 2020-01-01 working retired',
      'B 2010-01-01 2020-01-01 failed failed: ticket of line 2',
      'C 2010-01-01 2020-01-01 working retired',
    ])
    expect([decided(files, 'ticket-late'), decided(files, 'ticket-none-in-service')]).toEqual([1, 1])
  })

  it('tickets before the unit was there, of unknown units and after the end of the watch are counted and left out', async () => {
    const files = await readOwner(
      'unit,in_service\nA,2015-01-01\nB,2025-03-01\n',
      'unit,date\nA,2014-01-01\nZ,2016-01-01\n,2016-01-01\nA,2025-02-01\nA,2016-01-01\n',
      TODAY,
    )
    expect(files.lives).toHaveLength(2)
    const codes = [
      'ticket-before-service',
      'ticket-unknown-unit',
      'ticket-no-unit',
      'ticket-after-watch',
      'unit-after-watch',
    ]
    expect([...codes.slice(0, 4), 'register-after-watch'].map(code => decided(files, code))).toEqual([1, 1, 1, 1, 1])
    expect(placedTickets(files)).toBe(5)
  })

  it('without --today the watch ends at the latest date of an installation or ticket, and the result names its line', async () => {
    const { result, lives } = await readOwner(
      'unit,in_service\nA,2015-01-01\n',
      'unit,date,text\nA,2016-01-01,replaced\nA,2021-07-01,checked\n',
      {
        failedWhen: 'replaced',
      },
    )
    expect([result.watchEnds, result.watchEndsSays]).toEqual([
      '2021-07-01',
      'the latest date in the files (tickets.csv, line 3)',
    ])
    expect(dayText(lives.at(-1)?.to ?? 0)).toBe('2021-07-01')
  })

  it('--tickets-since: older units are watched from that day, and earlier tickets are not used', async () => {
    const files = await readOwner(
      'unit,in_service,retired\nA,2010-01-01,\nB,2017-01-01,\nC,2010-01-01,2014-01-01\n',
      'unit,date\nA,2012-01-01\nA,2019-01-01\n',
      { ...TODAY, since: day('2015-01-01') },
    )
    expect(
      files.lives.map(({ place, watchedFrom }) => [place, watchedFrom === null ? null : dayText(watchedFrom)]),
    ).toEqual([
      ['A', '2015-01-01'],
      ['A', null],
      ['B', null],
    ])
    const rows = (await recordsOf(files)).groups[0]?.rows
    expect([...(rows?.startAges ?? [])].map(age => Number(age.toFixed(2)))).toEqual([5, 0, 0])
    expect([decided(files, 'ticket-before-since'), decided(files, 'lives-before-watch')]).toEqual([1, 1])
  })
})

describe('N5 texts', () => {
  const register = 'unit,in_service\nA,2010-01-01\nB,2010-01-01\n'

  it('words begin words of the text, capitals or not, phrases with any blanks', async () => {
    const texts = ['Unit REPLACED', 'irreplaceable', '"no   output, reset"', 'no outputs', 'replacement ordered']
    const count = async (failedWhen: string) =>
      decided(
        await readOwner(register, `unit,date,text\n${texts.map((text, i) => `A,201${i}-06-01,${text}`).join('\n')}\n`, {
          failedWhen,
        }),
        'ticket-failures',
      )
    expect(await count('replace')).toBe(2)
    expect(await count('no output')).toBe(2)
    expect(await count('replaced, no output')).toBe(3)
    expect(await count('*')).toBe(5)
  })

  // 'DC isolator replaced' counted as a failure of the unit once the word was 'replaced'
  it('--not-when takes texts out again that --failed-when finds', async () => {
    const texts = ['Unit replaced', 'DC isolator replaced', 'Fuse replaced', 'Isolators checked']
    const tickets = `unit,date,text\n${texts.map((text, i) => `A,201${i}-06-01,${text}`).join('\n')}\n`
    const count = async (failedWhen: string, notWhen: string) =>
      decided(await readOwner(register, tickets, { failedWhen, notWhen }), 'ticket-failures')
    expect(await count('replaced', 'isolator, fuse')).toBe(1)
    expect(await count('replaced', 'dc isolator')).toBe(2)
    expect(await count('*', 'isolator')).toBe(2)
    expect(await error(readOwner(register, tickets, { failedWhen: 'replaced', notWhen: ',' }))).toContain(
      '--not-when: write words separated by commas',
    )
  })

  it('texts without --failed-when are an error that shows the common ones; so are words that no text holds', async () => {
    const tickets = 'unit,date,text\nA,2012-01-01,swapped\nB,2013-01-01,cleaned\nB,2014-01-01,cleaned\n'
    expect(await error(readOwner(register, tickets))).toBe(
      'tickets.csv has a column text, and a ticket is not always a failure. Say which words mean that a unit failed, e.g. --failed-when "replaced,no output", or --failed-when "*" for every ticket. The most common texts:\n  2 × "cleaned"\n  1 × "swapped"',
    )
    expect(await error(readOwner(register, tickets, { failedWhen: 'dead' }))).toContain(
      'No text in tickets.csv contains any of the words of --failed-when.',
    )
    expect(await error(readOwner(register, tickets, { failedWhen: ' , ' }))).toContain('--failed-when: write words')
  })

  it('tickets without texts are failures each, and that is said', async () => {
    const { warnings } = await readOwner(register, 'unit,date\nA,2012-01-01\n')
    expect(warnings.map(({ code }) => code)).toContain('every-ticket')
  })
})

describe('N5 rows and columns that do not fit', () => {
  it('all rows of both files that cannot be read are reported at once, in order of line; or left out and counted', async () => {
    const register =
      'unit,in_service,retired\nA,2010-01-01,\n,2010-01-01,\nB,,\nC,soon,\nD,2015-01-01,2014-01-01\nE,2010-01-01,,x\nF,43831,\n'
    const tickets = 'unit,date\nA,2012-01-01\nB,2012-01-01\nA,\n'
    expect(await error(readOwner(register, tickets))).toBe(
      [
        'units.csv:3  unit\n  the unit has no name; give the name that tickets use',
        'units.csv:4  in_service\n  empty; give the day on which the unit was put into service, or leave such rows out, counted, with --skip-bad-rows',
        'units.csv:5  in_service\n  "soon" is no date from 1970 to 2100 that can be read; write year-month-day like 2021-04-30',
        'units.csv:6  retired\n  the unit is retired before it is put into service',
        'units.csv:7\n  the line has 4 fields but the header 3; put fields that contain a separator into quotation marks',
        'units.csv:8  in_service\n  "43831" is no date from 1970 to 2100 that can be read; write year-month-day like 2021-04-30; it may be the day count of a spreadsheet: format the column as dates there',
        'tickets.csv:4  date\n  empty; give the day of the ticket',
      ].join('\n'),
    )
    const files = await readOwner(register, tickets, { skipBadRows: true })
    expect([
      decided(files, 'register-unreadable'),
      decided(files, 'ticket-unreadable'),
      decided(files, 'ticket-unread-unit'),
    ]).toEqual([6, 1, 1])
    expect(files.warnings.filter(({ code }) => code === 'rows-left-out').map(({ text }) => text.slice(0, 66))).toEqual([
      '6 of 7 rows of units.csv could not be read and were left out. The ',
      '1 of 3 rows of tickets.csv could not be read and were left out. Th',
    ])
  })

  it('a place that would hold two units at once is an error that says how to leave the column out', async () => {
    const register = 'place,unit,in_service\nSite 1,S1,2010-01-01\nSite 1,S2,2010-01-01\n'
    expect(await error(readOwner(register, 'unit,date\nS1,2012-01-01\n'))).toBe(
      'units.csv:3  unit\n  "Site 1" would hold two units at once, this one and that of line 2; a place holds one unit at a time. If the column names a site, leave it out with --column register.place=- and let unit name each unit',
    )
    const headers = readOwnerHeaders(['register.place=-'])
    expect((await readOwner(register, 'unit,date\nS1,2012-01-01\n', { ...TODAY, headers })).lives).toHaveLength(3)
  })

  it('columns by other headers, for both files or one; an unknown name and a missing column are reported', async () => {
    const headers = readOwnerHeaders(['in_service=Commissioned', 'register.unit=Inverter', 'tickets.unit=Asset'])
    const files = await readOwner('Inverter,Commissioned\nA,2010-01-01\n', 'Asset,Opened,Prio\nA,2012-01-01,1\n', {
      ...TODAY,
      headers,
    })
    expect(files.lives).toHaveLength(2)
    expect(files.result.unusedColumns).toEqual({ register: [], tickets: ['Prio'] })
    expect(() => readOwnerHeaders(['in_servce=x'])).toThrow('did you mean "in_service"?')
    expect(await error(readOwner('unit,Commissioned\nA,2010-01-01\n', 'unit,date\nA,2012-01-01\n'))).toBe(
      'units.csv:1  in_service\n  the file has no column in_service or installed or install_date; it has "unit", "Commissioned". Say which it is: --column "register.in_service=Commissioned"',
    )
    expect(await error(readOwner('', 'unit,date\n'))).toBe('units.csv\n  the file is empty; it needs a header and rows')
  })

  it('headers of both files are reported together (the second used to wait for the first)', async () => {
    const said = await error(readOwner('Asset No,Commissioned\nA,2010-01-01\n', 'Asset,Opened on\nA,2012-01-01\n'))
    for (const words of [
      'register.in_service=Commissioned',
      'register.unit=Asset No',
      'tickets.unit=Asset',
      'tickets.date=Opened on',
    ])
      expect(said).toContain(`--column "${words}"`)
  })

  it('a title above the header is named; a ticket list without a day gets the likely header', async () => {
    expect(await error(readOwner('Our assets,,\nunit,in_service,model\n', 'unit,date\n'))).toContain(
      'Line 1 looks like a title: remove the lines above the header',
    )
    expect(
      await error(readOwner('unit,in_service\nA,2010-01-01\n', 'unit,Opened on,What\nA,2012-01-01,x\n')),
    ).toContain('Say which it is: --column "tickets.date=Opened on"')
  })

  it('units are found whatever blanks and hyphens tickets write, counted, unless two of the register are alike', async () => {
    const register = 'unit,in_service\nPV-014,2010-01-01\nB 1,2010-01-01\nB-1,2010-01-01\n'
    const files = await readOwner(register, 'unit,date\nPV 014,2012-01-01\npv014,2016-01-01\nB1,2012-01-01\n', TODAY)
    expect(decided(files, 'ticket-other-spelling')).toBe(2)
    expect(decided(files, 'ticket-failures')).toBe(2)
    expect(decided(files, 'ticket-unknown-unit')).toBe(1)
  })

  it('names such as constructor are names like any other', async () => {
    const files = await readOwner(
      'unit,model,in_service\n__proto__,constructor,2010-01-01\ntoString,constructor,2010-01-01\n',
      'unit,date\n__proto__,2015-01-01\nvalueOf,2015-01-01\n',
      { ...TODAY, failedWhen: null },
    )
    expect(files.lives).toHaveLength(3)
    expect(decided(files, 'ticket-unknown-unit')).toBe(1)
  })
})

describe('N1 in-service.csv: what a fleet is planned for', () => {
  it('units at work, successors of those that failed, and those without a day; not what is retired', async () => {
    const register =
      'unit,model,in_service,retired\nA,m,2010-01-01,\nB,m,2011-01-01,2020-01-01\nC,m,2012-01-01,\nD,m,,\nE,m,2013-01-01,\nTotal,,,\n'
    const tickets = 'unit,date,closed\nA,2018-03-01,2018-03-20\nE,2024-12-30,2025-02-01\n'
    const files = await readOwner(register, tickets, { ...TODAY, skipBadRows: true })
    expect(inServiceCsv(files.inService)).toBe(
      'id,model,install_date\nA,m,2018-03-20\nC,m,2012-01-01\nE,m,2024-12-31\nD,m,\n',
    )
  })

  it('where names are those of units, a unit that failed is gone', async () => {
    const files = await readOwner('unit,in_service\nA,2010-01-01\nB,2010-01-01\n', 'unit,date\nA,2018-03-01\n', {
      ...TODAY,
      unitsAre: 'serials',
    })
    expect(inServiceCsv(files.inService)).toBe('id,install_date\nB,2010-01-01\n')
  })
})

describe('N5 records.csv', () => {
  it('read as records gives the same groups as the two files', async () => {
    const { register, tickets } = inventedOwner(4, 150, { shape: 2, lifeYears: 12 })
    const files = await readOwner(register, tickets, { failedWhen: FAILED_WHEN, skipBadRows: true })
    let text = ''
    for await (const chunk of recordsCsv(files.lives)) text += Buffer.from(chunk).toString()
    const again = await readRecords(bytesOf(text), {
      file: 'records.csv',
      ageUnit: 'years',
      choice: { named: {}, groupBy: null },
      skipBadRows: false,
      asOfDay: null,
    })
    const first = await recordsOf(files)
    expect(again).toEqual(first)
    expect(text.split('\r\n')[0]).toBe('unit,serial,batch,in_service,watched_from,ended,outcome,start_from,end_from')
    expect(placedTickets(files)).toBe(decided(files, 'ticket-rows'))
    const ends = ['successors-started', 'successors-listed', 'no-successor'].map(code => decided(files, code))
    expect(ends.reduce((sum, count) => sum + count)).toBe(decided(files, 'ticket-failures'))
  })
})

describe('N6 what a register and tickets cannot support', () => {
  const units = (n: number, more = '') => Array.from({ length: n }, (_, i) => `U${i},2012-01-01${more}`).join('\n')
  const codes = async (register: string, tickets: string, more = {}) =>
    (await readOwner(register, tickets, { ...TODAY, ...more })).warnings.map(({ code }) => code)

  it('a register of present units only, failures of unknown units, units replaced without a ticket, tickets kept late', async () => {
    const before = Array.from({ length: 4 }, (_, i) => `U${i},2010-06-01`).join('\n')
    expect(
      await codes(`unit,in_service,retired\n${units(9, ',')}\n`, `unit,date\nU8,2020-01-01\n${before}\n`),
    ).toContain('present-units-only')
    const strangers = Array.from({ length: 4 }, (_, i) => `X${i},2020-06-01`).join('\n')
    expect(
      await codes(`unit,in_service,retired\n${units(9, ',')}\n`, `unit,date\nU8,2020-01-01\n${strangers}\n`),
    ).toContain('unknown-units')
    const swapped = Array.from({ length: 4 }, (_, i) => `U${i},2018-01-01`).join('\n')
    expect(await codes(`unit,in_service\n${units(9)}\n${swapped}\n`, 'unit,date\nU8,2020-01-01\n')).toEqual(
      expect.arrayContaining(['replaced-no-ticket', 'no-retired']),
    )
    const late = Array.from({ length: 8 }, (_, i) => `U${i},202${i % 4}-06-01`).join('\n')
    expect(await codes(`unit,in_service\n${units(30)}\n`, `unit,date\n${late}\n`)).toContain('tickets-start-late')
    expect(
      await codes(`unit,in_service\n${units(30)}\n`, `unit,date\n${late}\n`, { since: day('2020-01-01') }),
    ).not.toContain('tickets-start-late')
  })

  it('a whole register with the few usual gaps is not warned of', async () => {
    const { register, tickets } = inventedOwner(3, 300, { shape: 2, lifeYears: 12 })
    const { warnings } = await readOwner(register, tickets, { failedWhen: FAILED_WHEN, skipBadRows: true })
    expect(warnings.map(({ code }) => code)).toEqual(['rows-left-out'])
    expect(
      (await fitOwner(await readOwner(register, tickets, { failedWhen: FAILED_WHEN, skipBadRows: true }))).ownerFiles
        ?.namesAre,
    ).toBe('places')
  })
})
