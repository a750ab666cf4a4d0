import { COMMON_FIGURES } from './common-figures.ts'
import { EXCHANGE_FIGURES } from './exchange-figures.ts'
import type { EvidenceFigure } from './figure.ts'
import { ROOF_FIGURES } from './roof-figures.ts'
import { ROW_FIGURES } from './row-figures.ts'
import type { EvidenceRowKey } from './rows.ts'
import { SKY_FIGURES } from './sky-figures.ts'
import { SOURCES } from './sources.ts'

/** Every built-in figure of the program. */
export const EVIDENCE_FIGURES: readonly EvidenceFigure[] = [
  ...ROW_FIGURES,
  ...COMMON_FIGURES,
  ...ROOF_FIGURES,
  ...SKY_FIGURES,
  ...EXCHANGE_FIGURES,
]

const byName = new Map(EVIDENCE_FIGURES.map(figure => [`${figure.row}|${figure.key}`, figure]))

/**
 * The built-in figure that fills a key: that of the row, else the common one.
 *
 * @param row - row of the evidence; null looks only among the common figures
 * @param key - key with dots, e.g. `warranty.years`
 * @returns the figure; null where there is none
 * @example findFigure('gateway', 'warranty.years')?.value // 5
 */
export function findFigure(row: EvidenceRowKey | null, key: string): EvidenceFigure | null {
  return (row === null ? undefined : byName.get(`${row}|${key}`)) ?? byName.get(`common|${key}`) ?? null
}

const phrased = new Map(
  EVIDENCE_FIGURES.flatMap(({ key, phrase, unit }) => (phrase === undefined ? [] : [[key, { phrase, unit }] as const])),
)

/**
 * The name in the report of a figure that fills no key of the scenario, and its unit.
 *
 * @param key - key with dots, e.g. `roof.losses`
 * @returns null where no figure of that key has a phrase
 */
export function phrasedFigure(key: string): { readonly phrase: string; readonly unit: string } | null {
  return phrased.get(key) ?? null
}

/**
 * The weakest point of a figure in a few words: its own, else that of its source.
 *
 * @param figure - the figure
 */
export function weakestOf({ weakest, source }: EvidenceFigure): string {
  return weakest ?? SOURCES[source].weakest
}

/**
 * As `findFigure`, for a figure that must be there.
 *
 * @param row - row of the evidence; null looks only among the common figures
 * @param key - key with dots
 * @throws RangeError when the evidence has no such figure: a fault of the program
 */
export function figureOf(row: EvidenceRowKey | null, key: string): EvidenceFigure {
  const figure = findFigure(row, key)
  if (figure === null) throw new RangeError(`no built-in figure for ${row ?? 'common'} ${key}`)
  return figure
}
