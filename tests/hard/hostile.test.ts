import { spawnSync } from 'node:child_process'
import { closeSync, mkdirSync, mkdtempSync, openSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, inject, test } from 'vitest'
import { readScenario } from '../../src/scenario/read-scenario.ts'
import { run } from '../cli/run.ts'
import { homeTemplate } from '../fleet/fleets.ts'
import { PLAIN } from '../scenario/plain-scenario.ts'

const SCRIPT = '<script>alert(1)</script>'
const IMAGE = '"><img src=x onerror=alert(1)>'
const FORMULA = "=HYPERLINK(''x'')"
const TURNED = '\u202eABC 👩‍👩‍👧 <q>"x"</q>'
const POLICY = `<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'; img-src data:">`

let folder: string
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'lifetally-hostile-'))
})
afterAll(() => rmSync(folder, { recursive: true, force: true }))

/** What is wrong with a page: a policy that is missing, marks or elements that came from a name. */
function faultsOf(html: string): string[] {
  return [
    ...(html.includes(POLICY) ? [] : ['no policy']),
    ...(html.match(/<script|<img|<q>|<iframe|<link|\u202e/gi) ?? []),
    ...(html.replace(/="[^"]*"/g, '=""').match(/<[^>]*\son\w+=/gi) ?? []),
  ]
}

/** Cells of a CSV text that a spreadsheet would take for a formula. */
function formulas(csv: string): string[] {
  return csv.split(/,|\r?\n/).filter(cell => /^"?[=+@\t\r]|^"?-(?!\d+(\.\d+)?(e[+-]\d+)?"?$)/.test(cell))
}

function saved(name: string, text: string): string {
  const path = join(folder, name)
  writeFileSync(path, text)
  return path
}

const read = (...parts: readonly string[]) => readFileSync(join(folder, ...parts), 'utf8')

describe('names are text and nothing else', () => {
  test('estimate: markup, formulas, right-to-left marks and emoji in names; foreign files stay', () => {
    const file = saved(
      'names.yaml',
      PLAIN.replace('title: Plain', `title: '${TURNED}'`)
        .replace('name: String', `name: '${SCRIPT}'`)
        .replace('name: Panel', `name: "${FORMULA}"`)
        .replace('kind: panel-level-unit', `kind: panel-level-unit\n        model: '${IMAGE}'`),
    )
    const out = join(folder, 'out')
    mkdirSync(out)
    saved('out/letter.txt', 'mine')
    expect(run(['estimate', file, '--draws', '40', '--out', out])).toMatchObject({ code: 0, error: '' })
    const html = read('out', 'report.html')
    expect(faultsOf(html)).toEqual([])
    expect(html).toContain('&lt;script&gt;')
    for (const name of ['yearly.csv', 'reserve.csv', 'comparisons.csv'])
      expect(formulas(read('out', name)), name).toEqual([])
    expect(read('out', 'reserve.csv')).toContain(`'${FORMULA}`)
    expect(read('out', 'letter.txt')).toBe('mine')
    expect(readdirSync(out).filter(name => name.startsWith('.'))).toEqual([])
  })

  test('fit: the same in groups, which the report names', () => {
    const groups = [SCRIPT, IMAGE.replaceAll('"', '""'), TURNED.replaceAll('"', '""')]
    const rows = Array.from({ length: 45 }, (_, at) => `"${groups[at % 3]}",${1 + (at % 15)},failed`)
    const file = saved('records.csv', ['model,end_age,outcome', ...rows].join('\n'))
    expect(run(['fit', file, '--out', join(folder, 'fit')]).code).toBe(0)
    const html = read('fit', 'fit.html')
    expect(faultsOf(html)).toEqual([])
    expect(html).toContain('&lt;script&gt;')
  })

  test('fleet: the same in sites, models and makers', () => {
    saved('home.yaml', homeTemplate())
    saved(
      'sites.csv',
      [
        'id,age_years,model,provider',
        `${FORMULA},1,${SCRIPT},@SUM(A1)`,
        `-2+3+cmd|' /C calc'!A0,2,"${IMAGE.replaceAll('"', '""')}",-`,
        `-7,nought,+1,"\u202e${'x'}"`,
      ].join('\n'),
    )
    const fleet = saved('fleet.yaml', `title: '${TURNED}'\ntemplate: home.yaml\nsites: sites.csv\n`)
    const { code, error } = run(['fleet', fleet, '--draws', '20', '--out', join(folder, 'fleet')])
    expect({ code, error }).toEqual({ code: 3, error: '' })
    expect(faultsOf(read('fleet', 'fleet.html'))).toEqual([])
    const sites = read('fleet', 'sites.csv')
    expect(formulas(sites)).toEqual([])
    expect(sites).toMatch(/^,'-7,no,.*\n/m)
  })
})

describe('inputs meant to do harm', () => {
  test.each([
    ['check', 'larger than 50 MB'],
    ['fit', '-:1\n  a line is longer than 100000 characters'],
  ])('%s of a stream that never ends: exit 1 with a message, in seconds', (command, told) => {
    const zeros = openSync('/dev/zero', 'r')
    const { status, stderr } = spawnSync(process.execPath, [inject('program'), command, '-'], {
      stdio: [zeros, 'pipe', 'pipe'],
      encoding: 'utf8',
      timeout: 30_000,
    })
    closeSync(zeros)
    expect(status).toBe(1)
    expect(stderr).toContain(told)
  })

  test('a path to a parent folder is read and no cell of the file is shown', () => {
    const text = PLAIN.replace(/\{monthly_kwh: .*\}/, '{hourly_csv: ../../../../../../../../etc/passwd}')
    const scenario = () => readScenario(text, 'climb.yaml', folder)
    expect(scenario).toThrow(/etc\/passwd/)
    expect(scenario).not.toThrow(/root:/)
  })
})
