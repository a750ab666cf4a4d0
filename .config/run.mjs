/**
 * `npm run lifetally`: the program from this folder, built first where the source is newer. Building takes less time than
 * reading the source file by file does.
 */
import { buildProgram, isStale } from './build.mjs'

if (isStale()) await buildProgram()
await import('../dist/cli/main.js')
