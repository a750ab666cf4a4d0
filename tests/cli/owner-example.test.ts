import { cpSync, mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { run } from './run.ts'

const START = ['npm', 'run', 'lifetally', '--']

/** Words of a command line; quotes keep words together. */
function wordsOf(line: string): string[] {
  return [...line.matchAll(/"([^"]*)"|\S+/g)].map(([word, quoted]) => quoted ?? word)
}

describe('the owner’s example: from units and tickets to a reserve (N5)', () => {
  const folder = mkdtempSync(join(tmpdir(), 'lifetally-owner-'))
  // in a copy, so that the example keeps its own fit.json
  const [owner = '', records = '', out = ''] = ['owner', 'records', 'reserve'].map(name => join(folder, name))
  afterAll(() => rmSync(folder, { recursive: true, force: true }))

  const block = /to the page for the board:\n\n```sh\n([\s\S]*?)```/.exec(readFileSync('README.md', 'utf8'))?.[1] ?? ''
  const [fit = [], copy, fleet = []] = block.trim().split('\n').map(wordsOf)
  const play = (words: readonly string[], ...more: string[]) =>
    run([...words.slice(4).map(word => word.replace('examples/owner', owner)), ...more])

  beforeAll(() => {
    cpSync('examples/owner', owner, { recursive: true })
    expect([fit.slice(0, 4), fleet.slice(0, 4)]).toEqual([START, START])
    expect(play(fit.slice(0, -1), records)).toMatchObject({ code: 0, error: '' })
  })

  test('the command of the README gives the kept fit.json, with the truth in its 90 % ranges', () => {
    const made = JSON.parse(readFileSync(join(records, 'fit.json'), 'utf8'))
    const kept = JSON.parse(readFileSync('examples/owner/fit.json', 'utf8'))
    expect(made.groups).toEqual(kept.groups)
    // examples/owner/make-files.ts
    const { shape, characteristicLife } = made.groups[0].models[0].parameters
    expect([shape.profile90[0] < 2.6, shape.profile90[1] > 2.6]).toEqual([true, true])
    expect([characteristicLife.profile90[0] < 13, characteristicLife.profile90[1] > 13]).toEqual([true, true])
    expect(readFileSync(join(records, 'failure.yaml'), 'utf8')).toContain('failure:\n  records: "fit.json"\n')
    // the same but for the folder, which the words name
    const decisions = (of: unknown): string => JSON.stringify(of).replaceAll(owner, 'examples/owner')
    expect(decisions(made.ownerFiles.decisions)).toEqual(decisions(kept.ownerFiles.decisions))
  })

  test('the three commands of the README end in the page for the board', () => {
    expect(copy).toEqual(['cp', 'records/fit.json', 'examples/owner/fit.json'])
    cpSync(join(records, 'fit.json'), join(owner, 'fit.json'))
    expect(play(fleet.slice(0, -1), out, '--draws', '20', '--threads', '1', '--quiet').code).toBe(0)
    const sheet = readFileSync(join(out, 'sheet.html'), 'utf8').replaceAll('\u00a0', ' ')
    expect(sheet).toContain('1 April 2026. 229 sites over 15 years')
    expect(sheet).not.toContain('As built')
    const { fleet: about, notes } = JSON.parse(readFileSync(join(out, 'fleet.json'), 'utf8'))
    const sites = readFileSync('examples/owner/sites.csv', 'utf8').trim().split('\n').length - 1
    expect(about.played).toBe(sites)
    // the fit counts the units that still work
    expect(notes).toEqual([])
  })
})
