import { describe, expect, test } from 'vitest'
import { readPartOption } from '../../src/cli/options/part-option.ts'

const slurm = (id: string, count: string, lowest = '0') => ({
  SLURM_ARRAY_TASK_ID: id,
  SLURM_ARRAY_TASK_COUNT: count,
  SLURM_ARRAY_TASK_MIN: lowest,
})

describe('F8: which part of a fleet is played', () => {
  test('none given, no scheduler: the whole fleet', () => {
    expect(readPartOption(undefined, {})).toBe(null)
  })

  test.each([
    ['2/8', {}, 2, 8],
    ['1/1', slurm('3', '4'), 1, 1],
    [undefined, slurm('0', '4'), 1, 4],
    [undefined, slurm('13', '4', '10'), 4, 4],
    [undefined, { JOB_COMPLETION_INDEX: '7', LIFETALLY_PARTS: '8' }, 8, 8],
  ])('typed %s, environment %o: part %i of %i', (typed, environment, part, parts) => {
    expect(readPartOption(typed, environment)).toEqual({ part, parts })
  })

  test.each([
    ['0/4', {}, '--part takes I/N with I from 1 to N, such as 2/8; found "0/4"'],
    ['5/4', {}, '--part takes I/N with I from 1 to N, such as 2/8; found "5/4"'],
    ['two', {}, '--part takes I/N with I from 1 to N, such as 2/8; found "two"'],
    [
      undefined,
      slurm('6', '4'),
      'the array of the batch scheduler must run in steps of 1; found task 6, lowest 0, 4 tasks. Or name the part with --part',
    ],
    [
      undefined,
      { JOB_COMPLETION_INDEX: '0' },
      'JOB_COMPLETION_INDEX is 0; set LIFETALLY_PARTS to the number of completions, found nothing',
    ],
  ])('typed %s, environment %o is refused', (typed, environment, words) => {
    expect(() => readPartOption(typed, environment)).toThrow(words)
  })
})
