import { describe, expect, test } from 'vitest'
import { readEpw } from '../../src/scenario/files/epw.ts'
import { DAYS_OF_MONTH } from '../../src/units.ts'

const HEAD = ['LOCATION,Somewhere,-,-,made up,0,47.2,8.5,1,400', 'D', 'T', 'G', 'H', 'C1', 'C2', 'DATA PERIODS,1,1']
/** Columns of an hour before the air temperature, and between it and the light. */
const hourText = (
  month: number,
  day: number,
  hour: number,
  [air, global, direct, diffuse]: readonly unknown[],
): string => `1999,${month},${day},${hour},0,?9,${air},2,80,99900,0,0,300,${global},${direct},${diffuse},0`

/** Lines of a file whose hours can be changed: line 9 is the first hour. */
function linesOf(values: readonly unknown[] = [8.5, 120, 60, 80], leap = false): string[] {
  const hours = DAYS_OF_MONTH.flatMap((days, month) =>
    Array.from({ length: month === 1 && leap ? 29 : days }, (_, day) =>
      Array.from({ length: 24 }, (_, hour) => hourText(month + 1, day + 1, hour + 1, values)),
    ).flat(),
  )
  return [...HEAD, ...hours, '']
}

function read(change: (lines: string[]) => void, lines = linesOf()) {
  change(lines)
  return readEpw(lines.join('\r\n'), 'year.epw')
}

const told = (change: (lines: string[]) => void): string => {
  try {
    read(change)
  } catch (error) {
    return error instanceof Error ? error.message : String(error)
  }
  return 'nothing is wrong'
}

describe('E7: a weather file in the EPW format', () => {
  test('is read by its columns, without the 29 February', () => {
    const { latitudeDegrees, weather } = read(() => {}, linesOf([8.5, 120, 60, 80], true))
    expect(latitudeDegrees).toBe(47.2)
    expect(weather.clock).toEqual({ longitudeDegrees: 8.5, utcOffsetHours: 1 })
    expect([weather.ghiWM2, weather.dniWM2, weather.dhiWM2, weather.airC].map(one => one?.length)).toEqual([
      8760, 8760, 8760, 8760,
    ])
    expect([weather.ghiWM2[5], weather.dniWM2?.[5], weather.dhiWM2?.[5], weather.airC?.[5]]).toEqual([120, 60, 80, 8.5])
  })

  // missing codes used to be played as 99.9 °C and 9,999 W/m²
  test.each<[string, readonly unknown[], string]>([
    ['air 99.9', [99.9, 120, 60, 80], 'air temperature (column 7): found 99.9, which says missing'],
    ['light 9999', [8.5, 9999, 60, 80], 'global horizontal irradiance (column 14): found 9999, which says missing'],
    ['direct 9999', [8.5, 120, 9999, 80], 'direct normal irradiance (column 15): found 9999, which says missing'],
    ['diffuse 9999', [8.5, 120, 60, 9999], 'diffuse horizontal irradiance (column 16): found 9999, which says missing'],
    ['negative light', [8.5, -1, 60, 80], 'column 14): found "-1"; allowed: a number from 0 to 1500'],
    ['too much light', [8.5, 1501, 60, 80], 'column 14): found "1501"; allowed: a number from 0 to 1500'],
    ['empty light', [8.5, '', 60, 80], 'column 14): found ""; allowed: a number from 0 to 1500'],
    ['words', [8.5, 120, 'x', 80], 'column 15): found "x"; allowed: a number from 0 to 1500'],
    ['heat', [71, 120, 60, 80], 'column 7): found "71"; allowed: a number from -90 to 70'],
  ])('one hour with %s is refused with its line', (_, values, words) => {
    const message = told(lines => (lines[100] = hourText(1, 4, 21, values)))
    expect(message).toContain('year.epw:101\n')
    expect(message).toContain(words)
  })

  test('a column of direct or diffuse light or air that is missing in every hour counts as not there', () => {
    const { weather } = read(() => {}, linesOf([99.9, 120, 9999, 9999]))
    expect([weather.dniWM2, weather.dhiWM2, weather.airC]).toEqual([null, null, null])
    expect(() => read(() => {}, linesOf([8.5, 9999, 60, 80]))).toThrow('which says missing')
  })

  test.each<[string, (lines: string[]) => void, string]>([
    ['no LOCATION', lines => (lines[0] = 'month,kwh'), 'year.epw:1\n  this is no file in EPW format'],
    ['longitude 9999', lines => (lines[0] = HEAD[0]!.replace('8.5', '9999')), 'year.epw:1\n  longitude (column 8)'],
    ['no latitude', lines => (lines[0] = HEAD[0]!.replace('47.2', '')), 'year.epw:1\n  latitude (column 7)'],
    [
      'an hour less',
      lines => lines.splice(500, 1),
      'year.epw:501\n  found month 1, day 21, hour 14; month 1, day 21, hour 13 is due',
    ],
    ['an hour twice', lines => lines.splice(500, 0, lines[500]!), 'year.epw:502\n  found month 1, day 21, hour 13; '],
    ['the last day missing', lines => lines.splice(-25), 'year.epw\n  found 8736 hours; a year has 8,760'],
    ['nothing but the first line', lines => lines.splice(1), 'year.epw\n  found 0 hours; a year has 8,760'],
  ])('%s: refused with a message', (_, change, words) => {
    expect(told(change)).toContain(words)
  })

  test('at most five problems of a file are reported', () => {
    expect(told(lines => lines.fill(hourText(1, 1, 1, [8.5, 1, 1, 1]), 8, 9)).split('\n')).toHaveLength(1)
    const message = told(lines => {
      for (let hour = 1; hour <= 24; hour++) lines[7 + hour] = hourText(1, 1, hour, [99.9, -1, -1, -1])
    })
    expect(message.match(/year\.epw:/g)).toHaveLength(5)
  })
})
