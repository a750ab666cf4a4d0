import { readFileSync } from 'node:fs'

/**
 * Version of the program, from its package file.
 *
 * @returns e.g. `0.1.0`
 */
export function readVersion(): string {
  const content: unknown = JSON.parse(readFileSync(new URL('../../package.json', import.meta.url), 'utf8'))
  if (typeof content === 'object' && content !== null && 'version' in content) return String(content.version)
  throw new Error('package.json has no version')
}
