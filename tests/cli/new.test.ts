import { mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, expect, test } from 'vitest'
import { STARTER } from '../../src/scenario/starter.ts'
import { run } from './run.ts'

const folder = mkdtempSync(join(tmpdir(), 'lifetally-new-'))
afterAll(() => rmSync(folder, { recursive: true, force: true }))

test('lifetally new writes the starter, once; check takes it as it is', () => {
  const path = join(folder, 'roof.yaml')
  expect(run(['new', path])).toEqual({
    code: 0,
    out: `${path} is written. It runs as it is; put your own figures in. Then the same command with\n  check ${path}\n  estimate ${path}\n`,
    error: '',
  })
  expect(readFileSync(path, 'utf8')).toBe(STARTER)
  expect(run(['check', path]).code).toBe(0)
  expect(run(['new', path])).toEqual({
    code: 2,
    out: '',
    error: `${path} exists already; name a new file, or move the old one away\n`,
  })
})

test('lifetally new - writes to standard output', () => {
  expect(run(['new', '-']).out).toBe(STARTER)
})
