import { describe, expect, it } from 'vitest'
import { commandLine, type FitOptions, readSource } from '../../src/cli/options/fit-options.ts'
import { UsageError } from '../../src/errors.ts'

const PLAIN: FitOptions = { ageUnit: 'years', seed: '1' }
const FILES = { register: 'units.csv', tickets: 'tickets.csv' }

const refused = (path: string | undefined, options: Partial<FitOptions>): string => {
  try {
    readSource(path, { ...PLAIN, ...options })
  } catch (error) {
    if (error instanceof UsageError) return error.message
    throw error
  }
  return 'taken'
}

describe('fit: where the records come from (N5)', () => {
  it('one file of records, or a register and tickets, never both or half', () => {
    expect(refused('records.csv', {})).toBe('taken')
    expect(refused(undefined, FILES)).toBe('taken')
    expect(refused(undefined, {})).toBe('name a file of records, or give --register FILE and --tickets FILE')
    expect(refused('-', FILES)).toBe('-: give either a file of records, or --register and --tickets, not both')
    expect(refused(undefined, { register: 'units.csv' })).toBe(
      '--register and --tickets need each other; add --tickets FILE, a list of tickets',
    )
    expect(refused(undefined, { tickets: 'tickets.csv' })).toBe(
      '--register and --tickets need each other; add --register FILE, a list of units',
    )
    expect(refused(undefined, { register: '-', tickets: '-' })).toBe(
      '--register and --tickets cannot both be read from standard input; name a file for one',
    )
  })

  it('options of one way are refused in the other, with what to write', () => {
    expect(refused('records.csv', { today: '2025-01-01' })).toBe(
      '--today needs --register and --tickets; leave it out, or give both files',
    )
    expect(refused(undefined, { ...FILES, asOf: '2025-01-01' })).toBe(
      '--as-of needs a file of records; write --today here',
    )
  })

  it('words and dates that are not allowed', () => {
    expect(refused(undefined, { ...FILES, dateOrder: 'dmy' })).toBe(
      '--date-order dmy: write one of day-month, month-day',
    )
    expect(refused(undefined, { ...FILES, units: 'place' })).toBe(
      '--units place: write one of places, serials; did you mean places?',
    )
    expect(refused(undefined, { ...FILES, today: '01/02/2025' })).toBe(
      '--today 01/02/2025: write a date like 2026-03-31',
    )
    expect(refused(undefined, { ...FILES, sameOutage: '-1' })).toBe('--same-outage -1: write a number from 0 to 365')
  })

  it('two weeks join tickets unless said; the command that makes the files again names all that was given', () => {
    const options = {
      ...PLAIN,
      ...FILES,
      failedWhen: 'replaced, dead',
      notWhen: 'fuse',
      units: 'serials',
      skipBadRows: true,
    }
    const source = readSource(undefined, options)
    expect(source.kind === 'owner' && source.settings.sameOutageDays).toBe(14)
    expect(commandLine(undefined, options)).toBe(
      "lifetally fit --register units.csv --tickets tickets.csv --failed-when 'replaced, dead' --not-when fuse --units serials --skip-bad-rows",
    )
  })
})
