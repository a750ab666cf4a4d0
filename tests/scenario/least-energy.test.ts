import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { InputError } from '../../src/errors.ts'
import { readScenario } from '../../src/scenario/read-scenario.ts'
import { playCase } from '../hard/play-case.ts'
import { changed } from './plain-scenario.ts'

const MONTHS = '  generation: {monthly_kwh: [250, 360, 550, 690, 780, 790, 800, 730, 580, 420, 280, 210]}'
const tiny = (kwh: string) => `[${Array(12).fill(kwh)}]`
const ENOUGH = 'allowed: at least 0.001 kWh in the year; check the figures and their unit'

let folder = ''
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'least-energy-'))
  writeFileSync(join(folder, 'none.csv'), `kwh\n${'0\n'.repeat(8760)}`)
  writeFileSync(join(folder, 'some.csv'), `kwh\n${'1\n'.repeat(8760)}`)
})
afterAll(() => rmSync(folder, { recursive: true }))

function messageOf(generation: string): string {
  try {
    readScenario(changed(MONTHS, generation), 'roof.yaml', folder)
  } catch (error) {
    if (error instanceof InputError) return error.message
    throw error
  }
  return 'no problem'
}

// The quotient of two allowed figures used to be infinite, or none at all: rule N4 or 'NaN' after the whole run.
test.each([
  [
    'months too small to be rescaled',
    `  generation: {annual_kwh: 1e10, monthly_kwh: ${tiny('1e-300')}}`,
    `roof.yaml:4:34  site.generation.monthly_kwh\n  the twelve months add up to 1.2e-299 kWh; ${ENOUGH}`,
  ],
  [
    'months by which no cost can be divided',
    `  generation: {monthly_kwh: ${tiny('5e-324')}}`,
    `roof.yaml:4:16  site.generation.monthly_kwh\n  the twelve months add up to 6e-323 kWh; ${ENOUGH}`,
  ],
  [
    'a year too small to be spread over months',
    '  generation: {annual_kwh: 5e-324}',
    'roof.yaml:4:16  site.generation.annual_kwh\n  found 5e-324; allowed: a number from 0.001 to 10,000,000,000 kWh',
  ],
  [
    'dark hours with a sum to be rescaled to',
    '  generation: {hourly_csv: none.csv, annual_kwh: 5000}',
    `roof.yaml:4:16  site.generation.hourly_csv\n  none.csv: the hours add up to 0 kWh; ${ENOUGH}`,
  ],
  [
    'dark hours',
    '  generation: {hourly_csv: none.csv}',
    `roof.yaml:4:16  site.generation.hourly_csv\n  none.csv: the hours add up to 0 kWh; ${ENOUGH}`,
  ],
  [
    'hours of no use with a sum to be rescaled to',
    '  generation: {hourly_csv: some.csv}\n  load: {annual_kwh: 4000, shape: {hourly_csv: none.csv}}',
    `roof.yaml:5:36  site.load.shape.hourly_csv\n  none.csv: the hours add up to 0 kWh; ${ENOUGH}`,
  ],
])('N4: energy of a year is enough to divide by: %s', (_, generation, message) => {
  expect(messageOf(generation)).toBe(message)
})

test.each([
  ['a year of a thousandth of a kWh', '  generation: {annual_kwh: 0.001}'],
  ['months of the least sum', `  generation: {annual_kwh: 1e10, monthly_kwh: [0.001${', 0'.repeat(11)}]}`],
  // the cost of a delivered kWh used to be 3e24
  ['light of next to nothing', arrays('1e-9')],
  ['no light', arrays('0')],
])('N4: at the least energy all figures are finite: %s', async (_, generation) => {
  expect(await playCase(changed(MONTHS, generation), 'report')).toBe('reported')
})

function arrays(light: string): string {
  return `  location: {latitude: 47, monthly_ghi_kwh_m2_day: ${tiny(light)}}
  generation: {arrays: [{name: a, panels: 20, panel_w: 400, tilt: 30, azimuth: 180}]}`
}
