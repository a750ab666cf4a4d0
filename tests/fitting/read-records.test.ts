import { describe, expect, it } from 'vitest'
import { InputError, UsageError } from '../../src/errors.ts'
import { readColumnOptions } from '../../src/fitting/records/columns.ts'
import { dayNumber } from '../../src/fitting/records/dates.ts'
import { type ReadSettings, type Records, readRecords } from '../../src/fitting/records/read-records.ts'
import { lifeAt } from '../../src/fitting/rows.ts'

const plain: ReadSettings = {
  file: 'records.csv',
  ageUnit: 'years',
  choice: { named: {}, groupBy: null },
  skipBadRows: false,
  asOfDay: null,
}

/** Gives a text in pieces of a few bytes, so that a chunk ends at every place. */
async function* inPieces(text: string, size: number): AsyncGenerator<Uint8Array> {
  const bytes = new TextEncoder().encode(text)
  for (let at = 0; at < bytes.length; at += size) yield bytes.subarray(at, at + size)
}

function read(text: string, settings: Partial<ReadSettings> = {}, size = 7): Promise<Records> {
  return readRecords(inPieces(text, size), { ...plain, ...settings })
}

async function problemsOf(text: string, settings: Partial<ReadSettings> = {}): Promise<string> {
  const error = await read(text, settings).then(
    () => null,
    (cause: unknown) => cause,
  )
  expect(error).toBeInstanceOf(InputError)
  return error instanceof Error ? error.message : ''
}

const livesOf = (records: Records, group = 0) => {
  const rows = records.groups[group]?.rows
  const lives = rows === undefined ? [] : Array.from(rows.counts, (_, r) => lifeAt(rows, r))
  return lives.sort((a, b) => a.afterAge - b.afterAge || (a.beforeAge < b.beforeAge ? -1 : 1))
}

describe('reading ages', () => {
  it('failed, working, between, late-watched and counted rows; groups by model; equal rows together', async () => {
    const records = await read(
      [
        'model,unit,start_age,end_age,outcome,count,failed_after,failed_before',
        'm1,a,,3.5,failed,,,',
        'm1,b,,3.5,failed,2,,',
        'm1,c,2,9,working,10,,',
        'm2,d,,,,,1,2',
        'm2,e,,,failed,,,0.5',
        '',
      ].join('\n'),
    )
    expect(records.groups.map(group => group.name)).toEqual(['m1', 'm2'])
    expect(livesOf(records)).toMatchObject([
      { startAge: 0, afterAge: 3.5, beforeAge: 3.5, count: 3 },
      { startAge: 2, afterAge: 9, beforeAge: Infinity, count: 10 },
    ])
    expect(livesOf(records, 1)).toMatchObject([
      { afterAge: 0, beforeAge: 0.5, count: 1 },
      { afterAge: 1, beforeAge: 2, count: 1 },
    ])
    expect(records.nLines).toBe(5)
  })

  it('the ends of chunks, carriage returns, a byte-order mark and a missing last line end change nothing', async () => {
    const text = 'end_age,outcome\n1.25,failed\n2.5,working\n7,Working'
    const expected = livesOf(await read(text, {}, 1000))
    for (const size of [1, 2, 3, 5, 11]) {
      expect(livesOf(await read(`\uFEFF${text.replaceAll('\n', '\r\n')}`, {}, size))).toEqual(expected)
    }
    expect(expected).toHaveLength(3)
  })

  it('quoted fields with separators, line ends and marks inside; line numbers stay right after them', async () => {
    const text = 'model,end_age,outcome\nm1,1,failed\n"a, ""b""\nc",2,failed\nm1,3,failed\nm1,x,failed\n'
    for (const size of [1, 4, 1000]) {
      await expect(read(text, {}, size)).rejects.toThrow(
        'records.csv:6  end_age\n  "x" is neither a number of years nor a date like 2021-04-30',
      )
      const records = await read(text.replace('m1,x,failed\n', ''), {}, size)
      expect(records.groups.map(group => group.name)).toEqual(['m1', 'a, "b" c'])
    }
  })

  it('semicolons with decimal commas, and tabs', async () => {
    expect(livesOf(await read('end_age;outcome\n1,5;failed\n'))).toMatchObject([{ afterAge: 1.5, beforeAge: 1.5 }])
    expect(livesOf(await read('end_age\toutcome\n1.5\tfailed\n'))).toMatchObject([{ afterAge: 1.5 }])
  })

  it('headers by other names, other groups, and none', async () => {
    const text = 'Type;Age at end;State;batch\nx;3;failed;B1\ny;4;working;B2\n'
    const named = readColumnOptions(['end_age=Age at end', 'outcome=state'])
    const records = await read(text, { choice: { named, groupBy: 'type' } })
    expect(records.groups.map(group => group.name)).toEqual(['x', 'y'])
    expect(records.batches).toEqual(['B1', 'B2'])
    expect((await read(text, { choice: { named, groupBy: 'none' } })).groups.map(group => group.name)).toEqual(['all'])
    expect(() => readColumnOptions(['end_ag=Age'])).toThrow(UsageError)
    expect(() => readColumnOptions(['end_ag=Age'])).toThrow('did you mean "end_age"?')
  })
})

describe('reading dates', () => {
  it('dates become ages of 365-day years (T1); watching that began before the unit did counts from its start', async () => {
    const records = await read(
      'in_service,watched_from,ended,outcome,failed_after,failed_before\n2020-01-01,,2022-12-31,failed,,\n2020-01-01,2021-12-31,2023-12-31,working,,\n2020-01-01,2019-06-01,2022-12-31,working,,\n2020-01-01,,,,2020-12-31,2021-12-31\n',
    )
    const [between, failed, , late] = livesOf(records)
    expect(between).toMatchObject({ afterAge: 365 / 365, beforeAge: 730 / 365 })
    expect(failed).toMatchObject({ startAge: 0, afterAge: 1095 / 365, month: 2020 * 12 })
    expect(late).toMatchObject({ startAge: 730 / 365, afterAge: 1460 / 365 })
  })

  it('--as-of is the end of a working unit without one', async () => {
    const text = 'in_service,ended,outcome\n2020-01-01,,working\n2020-01-01,2020-12-31,failed\n'
    expect(await problemsOf(text)).toBe(
      'records.csv:2  ended\n  empty; give the date it was last known to work, or --as-of DATE for all such units',
    )
    const records = await read(text, { asOfDay: dayNumber('2021-12-31') })
    expect(livesOf(records)).toMatchObject([{ beforeAge: 1 }, { afterAge: 2, beforeAge: Infinity }])
  })

  it('a failure on the day of installation counts as within that day, and is counted', async () => {
    const records = await read('in_service,ended,outcome\n2020-01-01,2020-01-01,failed\n')
    expect(livesOf(records)).toMatchObject([{ afterAge: 0, beforeAge: 1 / 365 }])
    expect(records.nOnFirstDay).toBe(1)
  })

  it('months, days and hours', async () => {
    const text = 'in_service,ended,outcome\n2020-01-01,2020-12-31,failed\n'
    for (const [ageUnit, age] of [
      ['days', 365],
      ['hours', 8760],
      ['months', 12],
    ] as const) {
      expect(livesOf(await read(text, { ageUnit }))[0]?.afterAge).toBeCloseTo(age, 9)
    }
  })

  it('days no calendar has are refused', () => {
    expect([dayNumber('2021-02-29'), dayNumber('2021-13-01'), dayNumber('1.2.2021'), dayNumber('2021-2-1')]).toEqual([
      null,
      null,
      null,
      null,
    ])
    expect(dayNumber('2020-02-29T08:00')).toBe(dayNumber('2020-02-29'))
  })
})

describe('slots', () => {
  it('a replacement starts at age 0, a unit that continues keeps its age; the slot counts both', async () => {
    const records = await read(
      'unit,start_age,end_age,outcome\na,,3,failed\na,,2,failed\na,,4,working\nb,,5,failed\nb,5,8,failed\nc,,6,working\n',
    )
    expect(records.groups[0]?.slots).toEqual(
      expect.arrayContaining([
        {
          watched: [
            [0, 3],
            [3, 5],
            [5, 9],
          ],
          failures: [3, 5],
          count: 1,
        },
        {
          watched: [
            [0, 5],
            [5, 8],
          ],
          failures: [5, 8],
          count: 1,
        },
        { watched: [[0, 6]], failures: [], count: 1 },
      ]),
    )
  })

  it('dates put the lives of a slot in order', async () => {
    const records = await read(
      'unit,in_service,ended,outcome\na,2021-01-15,2022-01-15,working\na,2020-01-01,2020-12-31,failed\n',
    )
    expect(records.groups[0]?.slots).toEqual([
      {
        watched: [
          [0, 1],
          [1, 2],
        ],
        failures: [1],
        count: 1,
      },
    ])
  })

  it('are left out where no slot failed more than once', async () => {
    expect((await read('unit,end_age,outcome\na,3,failed\nb,4,working\n')).groups[0]?.slots).toBeNull()
  })
})

describe('malformed records', () => {
  it('are named by line and column with the reason, all at once', async () => {
    expect(
      await problemsOf(
        [
          'model,start_age,end_age,outcome,count,failed_after,failed_before',
          'm,,-1,failed,,,',
          'm,,3,broken,,,',
          'm,,3,faild,,,',
          'm,,,failed,,,',
          'm,,3,failed,1.5,,',
          'm,5,3,failed,,,',
          'm,,0,failed,,,',
          'm,3,3,failed,,,',
          'm,,,,,4,2',
          'm,,,working,,1,2',
          'm,,,,,3,',
          'm,,3,,,,',
          'm,,3,failed,,,,extra',
          'm,,2021-01-01,failed,,,',
          'm,,3,failed,,,',
        ].join('\n'),
      ),
    ).toBe(
      [
        'records.csv:2  end_age\n  -1 is no age; give years from 0 up',
        'records.csv:3  outcome\n  "broken" is not known; write failed or working',
        'records.csv:4  outcome\n  "faild" is not known; write failed or working (did you mean failed?)',
        'records.csv:5  end_age\n  empty; give the age at which it failed or last worked',
        'records.csv:6  count\n  "1.5" is no number of units; give a whole number from 1 up, or leave it empty for 1',
        'records.csv:7  end_age\n  the unit ends at 3 but is watched only from 5; the end must be later',
        'records.csv:8  end_age\n  a failure at age 0 fits no curve; write by when it was found in failed_before',
        'records.csv:9  end_age\n  the unit failed at 3, the age at which it was first watched; give an earlier start or leave the row out',
        'records.csv:10  failed_before\n  failed_before 2 must be later than failed_after 4',
        'records.csv:11  outcome\n  the unit is called working, but failed_before says that it failed; remove one of the two',
        'records.csv:12  failed_before\n  failed_after is given without failed_before; say by when the unit had failed, or call it working with that as end_age',
        'records.csv:13  outcome\n  empty; write failed or working',
        'records.csv:14\n  the line has 8 fields but the header 7; a separator inside a field needs quotation marks around it',
        'records.csv:15  end_age\n  "2021-01-01" is a date, which needs a date in in_service too',
      ].join('\n'),
    )
  })

  it('may be left out, and are then counted and kept with their reason', async () => {
    const records = await read('end_age,outcome\n3,failed\nx,failed\n4,working\n', { skipBadRows: true })
    expect(livesOf(records)).toHaveLength(2)
    expect(records.nSkipped).toBe(1)
    expect(records.skipped).toEqual([
      {
        file: 'records.csv',
        line: 3,
        column: null,
        key: 'end_age',
        message: '"x" is neither a number of years nor a date like 2021-04-30',
      },
    ])
  })

  it('a wrong header is refused whether rows may be skipped or not', async () => {
    expect(await problemsOf('age,state\n3,failed\n', { skipBadRows: true })).toBe(
      'records.csv:1  end_age\n  the file has no ages: give a column end_age, or in_service and ended with dates, or failed_before; it has "age", "state"\nrecords.csv:1  outcome\n  the file has no column outcome with "failed" or "working"; it has "age", "state"',
    )
    expect(await problemsOf('end_age,outcome,end_age\n')).toContain('the header "end_age" occurs twice')
    expect(await problemsOf('end_age,outcome\n', { choice: { named: {}, groupBy: 'model' } })).toBe(
      'records.csv:1  model\n  --by names this column, but the file has "end_age", "outcome"',
    )
    expect(await problemsOf('')).toBe('records.csv\n  the file is empty; it needs a header and rows')
    expect(await problemsOf('end_age,outcome\n')).toBe('records.csv\n  the file has a header but no rows')
  })
})

it('quotation marks that do not match are reported with their line, not taken for a fault of the program', async () => {
  expect(await problemsOf('model,end_age,outcome\na,3,failed\n<b>"x,3,failed\n')).toBe(
    'records.csv:3\n  this line cannot be read as CSV; look at its quotation marks',
  )
  expect(await problemsOf('model,end_age,outcome\na,3,failed\n"x,3,failed\n')).toBe(
    'records.csv:3\n  a quotation mark is not closed',
  )
})

describe('figures that no record can hold', () => {
  it.each([
    ['1e-200', 'years', '"1e-200" cannot be an age in years; check the number and --age-unit'],
    ['1e300', 'hours', '"1e300" cannot be an age in hours; check the number and --age-unit'],
  ] as const)('an age of %s %s', async (age, ageUnit, words) => {
    expect(await problemsOf(`end_age,outcome\n${age},failed\n`, { ageUnit })).toBe(`records.csv:2  end_age\n  ${words}`)
  })

  it('more units than anybody watches, in one row or in many; the rows that fit are kept where bad ones are skipped', async () => {
    const words = 'with this row there are more than 10000000 units; that is the limit of a file'
    const rows = 'end_age,outcome,count\n3,failed,9999999\n4,working,1\n5,working,1\n'
    expect(await problemsOf(rows)).toBe(`records.csv:4  count\n  ${words}`)
    expect(await problemsOf('end_age,outcome,count\n3,failed,1000000000\n')).toContain(words)
    expect(livesOf(await read(rows, { skipBadRows: true }))).toHaveLength(2)
  })
})
