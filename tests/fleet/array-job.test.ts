import { chmodSync, existsSync, mkdtempSync, readFileSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { describe, expect, inject, test } from 'vitest'
import { run } from '../cli/run.ts'
import { homeTemplate, siteTable, writeFleet } from './fleets.ts'
import { ask, HAS_SCHEDULER } from './scheduler.ts'
import { until } from './until.ts'

const PARTS = 3
const DRAWS = 100
const FOLDER = mkdtempSync(join(tmpdir(), 'lifetally-array-'))
const LOG = join(FOLDER, 'log')

/** The built program, which notes when a task starts and how it ends. */
function program(): string {
  const file = join(FOLDER, 'lifetally')
  writeFileSync(
    file,
    `#!/bin/sh
echo "$SLURM_ARRAY_TASK_ID starts" >>"${LOG}"
"${process.execPath}" "${inject('program')}" "$@"
status=$?
echo "$SLURM_ARRAY_TASK_ID ends $status" >>"${LOG}"
exit $status
`,
  )
  chmodSync(file, 0o755)
  return file
}

describe.skipIf(!HAS_SCHEDULER)('F8: the array job of examples/fleet on a batch scheduler', () => {
  test('a task is stopped midway and run again; the parts joined are one run, to the byte', async () => {
    // a line with a bad age: one site is left out
    const fleet = writeFleet(homeTemplate(), `${siteTable(3600)}bad,-4,3000,alder,maker-a\n`)
    const parts = join(FOLDER, 'parts')
    const job = ask(
      'sbatch',
      ['--parsable', `--array=0-${PARTS - 1}`, `--output=${join(FOLDER, 'task-%a')}`, 'examples/fleet/array-job.sh'],
      { FLEET: fleet, OUT: parts, DRAWS: String(DRAWS), LIFETALLY: program() },
    )
    const state = join(parts, `.unfinished-1-of-${PARTS}`, `part-1-of-${PARTS}.state`)
    await until('the first task saves', () => existsSync(state), 60)
    ask('scontrol', ['requeue', `${job}_0`])
    await until(
      'it is stopped',
      () => ask('squeue', ['-h', '-t', 'PENDING', '-o', '%a %r', '-j', `${job}_0`]) !== '',
      20,
    )
    expect(existsSync(join(parts, `part-1-of-${PARTS}.part`))).toBe(false)
    // by default the scheduler waits two minutes; within a second it refuses
    ask('scontrol', ['update', `JobId=${job}_0`, 'StartTime=now+2'])
    await until('all tasks are done', () => ask('squeue', ['-h', '-j', job]) === '', 60)
    const told = readFileSync(LOG, 'utf8').trim().split('\n').sort()
    expect(told).toEqual(['0 ends 0', '0 starts', '0 starts', '1 ends 0', '1 starts', '2 ends 3', '2 starts'])

    const joined = run(['join', parts, '--out', join(FOLDER, 'joined')])
    expect(joined.code).toBe(3)
    const whole = run(['fleet', fleet, '--draws', String(DRAWS), '--quiet', '--out', join(FOLDER, 'whole')])
    expect(whole.code).toBe(3)
    for (const name of ['fleet.json', 'sites.csv', 'fleet.html', 'years.csv', 'reserve.xlsx', 'sheet.html'])
      expect(readFileSync(join(FOLDER, 'joined', name)).equals(readFileSync(join(FOLDER, 'whole', name))), name).toBe(
        true,
      )
  }, 180_000)
})
