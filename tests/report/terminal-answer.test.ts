import { describe, expect, test } from 'vitest'
import { answerText } from '../../src/cli/terminal/say-answer.ts'
import { terminalAnswer } from '../../src/report/estimate/terminal-answer.ts'
import { homeResults } from './fixture.ts'

describe('the answer of estimate on the terminal', () => {
  const home = homeResults()
  const named = {
    ...home,
    options: home.options.map(option => ({
      ...option,
      name: `Inverter on the wall with something at ${option.id} panels of the roof`,
    })),
  }

  test('four options with long names take at most twelve lines of 80: a table used to be 86 wide, the answer 13 long', () => {
    const lines = answerText({ ...terminalAnswer(named, 'en-GB'), warnings: [] }, [])
      .trimEnd()
      .split('\n')
    expect(home.options).toHaveLength(4)
    expect(lines.length).toBeLessThanOrEqual(12)
    expect(Math.max(...lines.map(line => line.length))).toBeLessThanOrEqual(80)
    // quotes differ at the end of their names
    for (const { id } of home.options) expect(lines.join('\n')).toContain(`${id} panels of the roof (${id})`.slice(-14))
  })

  test('it has the price next to the cost over its life, and says what that holds', () => {
    const { rows, warnings } = terminalAnswer(home, 'en-GB')
    const prices = rows.slice(1).map(row => row[1]?.replace(/\D/g, ''))
    expect(prices.toSorted()).toEqual(home.options.map(({ costs }) => String(costs.upfront)).toSorted())
    expect(warnings[0]).toMatch(/^Over its life: purchase, .* and lost energy/)
  })
})
