import { spawnSync } from 'node:child_process'
import { mkdtempSync, rmSync, symlinkSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join, resolve } from 'node:path'
import type { TestProject } from 'vitest/node'
import { tierOf } from '../.config/tiers.ts'

declare module 'vitest' {
  interface ProvidedContext {
    /** The built program: the file to start with node. */
    program: string
  }
}

/** What the program needs in addition to its JavaScript. */
const BESIDE = ['package.json', 'report-templates', 'node_modules']

let folder = ''

/**
 * Builds the program once for all tests that start it, into a folder of this run: starting it costs half of what starting
 * the source costs, and it is what users have. A run of tests that start none builds none.
 *
 * @param project - is given `program`
 */
export function setup(project: TestProject): void {
  if (!project.vitest.state.getPaths().some(path => ['programs', 'pages'].includes(tierOf(path)))) return
  folder = mkdtempSync(join(tmpdir(), 'lifetally-built-'))
  const build = [resolve(project.config.root, '.config/build.mjs'), join(folder, 'dist')]
  const { status, stderr } = spawnSync(process.execPath, build, { encoding: 'utf8' })
  if (status !== 0) throw new Error(`the program cannot be built: ${stderr}`)
  for (const name of BESIDE) symlinkSync(resolve(project.config.root, name), join(folder, name))
  project.provide('program', join(folder, 'dist/cli/main.js'))
}

/** Removes the folder. */
export function teardown(): void {
  if (folder !== '') rmSync(folder, { recursive: true })
}
