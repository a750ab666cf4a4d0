// Before `npm test` in a git checkout: git takes its hooks from .githooks/. Anywhere else: nothing, and no failure.
import { execFileSync } from 'node:child_process'
import { existsSync } from 'node:fs'

if (existsSync('.git')) {
  try {
    execFileSync('git', ['config', 'core.hooksPath', '.githooks'], { stdio: 'ignore' })
  } catch {
    console.warn('git hooks not set: git did not answer')
  }
}
