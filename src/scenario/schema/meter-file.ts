import { text } from './leaf.ts'
import { block, choice, type Draft } from './walk.ts'

const fileBlock = block({
  file: text().meta({ description: 'CSV with a header.', phrase: 'file of a meter' }),
  column: text().optional().meta({
    description: 'Column that is read; left out: the only one with a unit of energy or power.',
    phrase: 'column that is read',
  }),
  minus: text().optional().meta({
    description: 'Column that is taken off, row by row: a meter that counts both ways.',
    phrase: 'column that is taken off',
  }),
})

/** A year of hours, half-hours or quarter-hours of energy in a file: its name, or its name and columns. */
export function meterFile() {
  return choice([text(), fileBlock], raw => (typeof raw === 'object' ? 1 : 0))
}

/** Such a file as written. */
export interface MeterFile {
  readonly file: string
  readonly column: string | null
  readonly minus: string | null
}

/**
 * The file and columns of either form.
 *
 * @param given - as written, as far as it could be read
 * @returns null where no file is named
 */
export function meterFileOf(
  given: string | Draft<{ file: string; column?: string | undefined; minus?: string | undefined }> | undefined,
): MeterFile | null {
  if (given === undefined) return null
  if (typeof given === 'string') return { file: given, column: null, minus: null }
  return given.file === undefined
    ? null
    : { file: given.file, column: given.column ?? null, minus: given.minus ?? null }
}
