import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, expect, test } from 'vitest'
import { PLAIN } from '../scenario/plain-scenario.ts'
import { run } from './run.ts'

const folder = mkdtempSync(join(tmpdir(), 'lifetally-beside-'))
afterAll(() => rmSync(folder, { recursive: true, force: true }))

test('results are written next to the scenario; those of another scenario are not overwritten', () => {
  const yaml = join(folder, 'roof.yaml')
  const other = join(folder, 'roof.yml')
  writeFileSync(yaml, PLAIN)
  writeFileSync(other, PLAIN.replace('title: Plain', 'title: Other'))
  expect(run(['estimate', yaml, '--draws', '40', '--quiet'])).toMatchObject({ code: 0, error: '' })
  const results = join(folder, 'roof')
  expect(readFileSync(join(results, 'made-from.txt'), 'utf8')).toBe('../roof.yaml\n')
  expect(existsSync(join(results, 'report.html'))).toBe(true)
  const before = readFileSync(join(results, 'results.json'), 'utf8')
  expect(run(['estimate', other, '--draws', '40', '--quiet'])).toEqual({
    code: 2,
    out: '',
    error: `${results} holds the results of ${yaml}. Name another folder with --out, or move that one away\n`,
  })
  expect(readFileSync(join(results, 'results.json'), 'utf8')).toBe(before)
  expect(run(['estimate', yaml, '--draws', '40', '--seed', '2', '--quiet'])).toMatchObject({ code: 0 })
  expect(readFileSync(join(results, 'results.json'), 'utf8')).not.toBe(before)
})

test('results of an unknown scenario are not overwritten either', () => {
  const yaml = join(folder, 'garage.yaml')
  writeFileSync(yaml, PLAIN)
  mkdirSync(join(folder, 'garage'))
  writeFileSync(join(folder, 'garage', 'results.json'), '{}')
  expect(run(['estimate', yaml, '--draws', '40', '--quiet'])).toEqual({
    code: 2,
    out: '',
    error: `${join(folder, 'garage')} holds a results.json, and no made-from.txt says of which scenario. Name another folder with --out, or move that one away\n`,
  })
  expect(readFileSync(join(folder, 'garage', 'results.json'), 'utf8')).toBe('{}')
})
