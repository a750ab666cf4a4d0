/**
 * `npm test`: all tests; `npm test -- rules programs` only these tiers; anything else goes on to the test runner, as in
 * `npm test -- tests/ledger`.
 */
import { spawnSync } from 'node:child_process'

const TIERS = ['rules', 'programs', 'pages', 'long']
const words = process.argv.slice(2).flatMap(word => (TIERS.includes(word) ? ['--project', word] : [word]))
const { status } = spawnSync('vitest', ['run', '--config', '.config/vitest.ts', ...words], { stdio: 'inherit' })
process.exitCode = status ?? 1
