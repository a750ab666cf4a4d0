import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { run } from './run.ts'

describe('the owner’s example: from units and tickets to a reserve (N5)', () => {
  let folder: string
  beforeAll(() => {
    folder = mkdtempSync(join(tmpdir(), 'lifetally-owner-'))
  })
  afterAll(() => rmSync(folder, { recursive: true, force: true }))

  test('the command of the README gives the kept fit.json, with the truth in its 90 % ranges', () => {
    const files = ['--register', 'examples/owner/units.csv', '--tickets', 'examples/owner/tickets.csv']
    const { code, error } = run(['fit', ...files, '--failed-when', 'replaced,no output', '--out', folder])
    expect({ code, error }).toEqual({ code: 0, error: '' })
    const made = JSON.parse(readFileSync(join(folder, 'fit.json'), 'utf8'))
    const kept = JSON.parse(readFileSync('examples/owner/fit.json', 'utf8'))
    expect(made.groups).toEqual(kept.groups)
    expect(made.ownerFiles.decisions).toEqual(kept.ownerFiles.decisions)
    // examples/owner/make-files.ts
    const { shape, characteristicLife } = made.groups[0].models[0].parameters
    expect([shape.profile90[0] < 2.6, shape.profile90[1] > 2.6]).toEqual([true, true])
    expect([characteristicLife.profile90[0] < 13, characteristicLife.profile90[1] > 13]).toEqual([true, true])
    expect(readFileSync(join(folder, 'failure.yaml'), 'utf8')).toContain('failure:\n  records: "fit.json"\n')
  })

  test('the fleet takes the block in and plays all its roofs', () => {
    const out = join(folder, 'reserve')
    expect(
      run(['fleet', 'examples/owner/fleet.yaml', '--draws', '20', '--threads', '1', '--quiet', '--out', out]).code,
    ).toBe(0)
    expect(readdirSync(out)).toContain('fleet.html')
    const sites = readFileSync('examples/owner/sites.csv', 'utf8').trim().split('\n').length - 1
    expect(JSON.parse(readFileSync(join(out, 'fleet.json'), 'utf8')).fleet.played).toBe(sites)
  })
})
