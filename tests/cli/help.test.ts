import { describe, expect, test } from 'vitest'
import { run } from './run.ts'

describe('help and wrong usage', () => {
  const commands = [...run(['--help']).out.matchAll(/^ {2}([a-z]+) .*$/gm)].map(match => match[1] ?? '')

  test('the help lists the commands and an example', () => {
    expect(commands).toEqual(expect.arrayContaining(['check', 'new', 'evidence', 'schema', 'help']))
    expect(run(['--help']).out).toContain('Example:\n  lifetally new roof.yaml')
  })

  test.each(commands.filter(name => !['help', 'lifetally'].includes(name)))(
    '%s --help has an example, exit 0',
    name => {
      const { code, out } = run([name, '--help'])
      expect(code).toBe(0)
      expect(out).toMatch(new RegExp(`Examples?:\\n {2}lifetally ${name}`))
    },
  )

  test('an unknown command: exit 2, the nearest is suggested', () => {
    const { code, out, error } = run(['chek'])
    expect({ code, out }).toEqual({ code: 2, out: '' })
    expect(error).toContain("unknown command 'chek'")
    expect(error).toContain('Did you mean check?')
  })

  test.each([[['check']], [['check', 'a', 'b']], [['check', '--nosuch', 'a']], [[]]])('%j: exit 2', args => {
    expect(run(args).code).toBe(2)
  })

  test('--version prints the version alone', () => {
    expect(run(['--version'])).toMatchObject({ code: 0, out: expect.stringMatching(/^\d+\.\d+\.\d+\n$/) })
  })

  test('no message holds a stack trace', () => {
    for (const args of [['check', 'none.yaml'], ['chek'], ['new', '/proc/none/x.yaml']])
      expect(run(args).error, args.join(' ')).not.toMatch(/^ +at /m)
  })
})
