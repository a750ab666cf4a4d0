import { describe, expect, test } from 'vitest'
import { run, runAll } from './run.ts'

describe('help and wrong usage', () => {
  const help = run(['--help']).out
  const commands = [...help.matchAll(/^ {2}([a-z]+) .*$/gm)].map(match => match[1] ?? '')

  test('the help lists the commands and an example', () => {
    expect(commands).toEqual(expect.arrayContaining(['check', 'new', 'evidence', 'schema', 'help']))
    expect(help).toContain('Example:\n  lifetally new roof.yaml')
  })

  test('each command has a help with an example, exit 0', async () => {
    const names = commands.filter(name => !['help', 'lifetally'].includes(name))
    expect(names.length).toBeGreaterThanOrEqual(8)
    const helps = await runAll(names.map(name => [name, '--help']))
    for (const [at, name] of names.entries()) {
      expect(helps[at]).toMatchObject({ code: 0, error: '' })
      expect(helps[at]?.out).toMatch(new RegExp(`Examples?:\\n {2}lifetally ${name}`))
    }
  })

  test('an unknown command: exit 2, the nearest is suggested', () => {
    const { code, out, error } = run(['chek'])
    expect({ code, out }).toEqual({ code: 2, out: '' })
    expect(error).toContain("unknown command 'chek'")
    expect(error).toContain('Did you mean check?')
    expect(error).not.toMatch(/^ +at /m)
  })

  test('too few words, too many, an unknown option, none at all: exit 2', async () => {
    const runs = await runAll([['check'], ['check', 'a', 'b'], ['check', '--nosuch', 'a'], []])
    expect(runs.map(({ code }) => code)).toEqual([2, 2, 2, 2])
  })

  test('--version prints the version alone', () => {
    expect(run(['--version'])).toMatchObject({ code: 0, out: expect.stringMatching(/^\d+\.\d+\.\d+\n$/) })
  })

  test('a place that cannot be written to: exit 2 with a message, no stack trace', () => {
    const { code, error } = run(['new', '/proc/none/x.yaml'])
    expect(code).toBe(2)
    expect(error).toMatch(/^cannot write to .*\n$/)
  })
})
