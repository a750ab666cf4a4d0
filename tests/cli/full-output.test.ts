import { spawnSync } from 'node:child_process'
import { closeSync, existsSync, mkdtempSync, openSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, describe, expect, inject, test } from 'vitest'
import { PLAIN } from '../scenario/plain-scenario.ts'

const folder = mkdtempSync(join(tmpdir(), 'lifetally-full-'))
afterAll(() => rmSync(folder, { recursive: true }))

// each of these used to end with a stack trace
describe.skipIf(!existsSync('/dev/full'))('a standard output that is full', () => {
  const example = join(folder, 'plain.yaml')
  writeFileSync(example, PLAIN)
  const records = join(folder, 'records.csv')
  writeFileSync(records, 'end_age,outcome,count\n2,failed,1\n5,failed,2\n9,working,30\n')
  test.each([
    ['schema'],
    ['evidence'],
    ['check', example],
    ['check', example, '--json'],
    ['estimate', example, '--draws', '20', '--json', '--quiet'],
    ['new', '-'],
    ['new', join(folder, 'roof.yaml')],
    ['fit', records, '--json', '--quiet'],
    ['estimate', '--help'],
  ])('%s %s: exit 2 and a message of one line', (...args) => {
    const full = openSync('/dev/full', 'w')
    try {
      const stdio = ['ignore', full, 'pipe'] as const
      const { status, stderr } = spawnSync(process.execPath, [inject('program'), ...args], {
        stdio: [...stdio],
        encoding: 'utf8',
      })
      expect({ status, stderr }).toEqual({ status: 2, stderr: 'cannot write to standard output: the disk is full\n' })
    } finally {
      closeSync(full)
    }
  })
})
