#!/usr/bin/env node
// Nothing of the program is imported before this point, so that a failure to load also ends in a message.
try {
  const { runProgram } = await import('./program.ts')
  process.exitCode = await runProgram()
} catch (error) {
  const words = error instanceof Error ? error.message.split('\n', 1)[0] : String(error)
  const few = /\bE[MN]FILE\b/.test(words ?? '')
  process.stderr.write(
    few
      ? 'too few files may be open at once here; allow more (ulimit -n 1024) and run the command again\n'
      : `lifetally cannot be loaded: ${words}\nInstall it again.\n`,
  )
  process.exitCode = 2
}
