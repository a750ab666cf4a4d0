/**
 * Draws an owner's two files, units.csv and tickets.csv, and the list of roofs for a fleet, sites.csv. All of it is
 * invented; the truth is shape 2.6 and a characteristic life of 13 years of 365 days.
 *
 *   npx tsx examples/owner/make-files.ts
 */
import { writeFileSync } from 'node:fs'
import { openStream, streamKey } from '../../src/numerics/random/streams.ts'

const DAY = 86_400_000
const FIRST_DAY = Date.UTC(2009, 0, 1) / DAY
const LAST_DAY = Date.UTC(2026, 2, 31) / DAY
const N_ROOFS = 240
const SHAPE = 2.6
const LIFE_DAYS = 13 * 365

const FAILURES = ['Inverter replaced under warranty', 'No output, unit replaced', 'no output after storm, new unit fitted']
const OTHERS = ['Portal offline, router restarted', 'Yearly inspection', 'Isolator checked', 'Firmware update']

const units = ['Unit;Model;Installed;Retired;Street']
const tickets: { day: number; line: string }[] = []
const sites = ['id,age_years,annual_kwh']
for (let roof = 0; roof < N_ROOFS; roof++) {
  const stream = openStream(streamKey(2026, 'owner'), roof)
  const whole = (from: number, to: number): number => from + Math.floor(stream.uniform() * (to - from + 1))
  const pick = (words: readonly string[]): string => words[Math.floor(stream.uniform() * words.length)] ?? ''
  const unit = `INV-${String(roof + 1).padStart(3, '0')}`
  const installed = whole(FIRST_DAY, LAST_DAY - 700)
  const retired = stream.uniform() < 0.06 ? whole(installed + 300, LAST_DAY + 1500) : Infinity
  const end = Math.min(retired, LAST_DAY)
  units.push([unit, 'wall-5', written(installed), retired <= LAST_DAY ? written(retired) : '', `Mill Lane ${roof + 1}`].join(';'))
  const ticket = (day: number, closed: number | null, text: string): void => {
    const quoted = text.includes(',') ? `"${text}"` : text
    tickets.push({ day, line: [unit, iso(day), closed === null || closed > LAST_DAY ? '' : iso(closed), quoted].join(',') })
  }
  let from = installed
  for (;;) {
    const fails = from + Math.max(1, Math.round(LIFE_DAYS * stream.exponential() ** (1 / SHAPE)))
    for (let day = from + whole(30, 1500); day < Math.min(fails, end); day += whole(200, 2500)) ticket(day, null, pick(OTHERS))
    if (fails > end) break
    const back = fails + whole(3, 30)
    ticket(fails, stream.uniform() < 0.8 ? back : null, pick(FAILURES))
    if (stream.uniform() < 0.3) ticket(fails + whole(1, 9), null, 'Replaced: paperwork')
    from = back
    if (from >= end) break
  }
  if (retired > LAST_DAY && from < LAST_DAY) {
    sites.push([unit, ((LAST_DAY - from) / 365).toFixed(1), String(10 * whole(260, 430))].join(','))
  }
}
tickets.sort((a, b) => a.day - b.day)
write('units.csv', units)
write('tickets.csv', ['unit,opened,closed,description', ...tickets.map(({ line }) => line)])
write('sites.csv', sites)

/** Day before month, as a spreadsheet of the place writes it. */
function written(day: number): string {
  return iso(day).split('-').reverse().join('.')
}

function iso(day: number): string {
  return new Date(day * DAY).toISOString().slice(0, 10)
}

function write(name: string, lines: readonly string[]): void {
  writeFileSync(new URL(name, import.meta.url), `${lines.join('\n')}\n`)
}
