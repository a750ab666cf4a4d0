/**
 * `npm test`: all tests; `npm test -- rules programs` only these tiers; anything else goes on to the test runner, as in
 * `npm test -- tests/ledger`.
 */
import { spawnSync } from 'node:child_process'

const TIERS = ['rules', 'programs', 'pages', 'long']
const words = process.argv.slice(2)
const { status } = spawnSync(
  'vitest',
  ['run', '--config', '.config/vitest.ts', ...words.filter(word => !TIERS.includes(word))],
  {
    stdio: 'inherit',
    env: { ...process.env, LIFETALLY_TIERS: words.filter(word => TIERS.includes(word)).join(' ') },
  },
)
process.exitCode = status ?? 1
