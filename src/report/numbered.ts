import type { Chapter, Finding, Table } from './content.ts'

/**
 * Chapters as the templates take them: findings numbered from 1 through all chapters, and narrow tables listed separately,
 * since on paper they share columns with text and pictures.
 *
 * @param chapters - in the order in which they are printed
 */
export function numbered(chapters: readonly Chapter[]) {
  let number = 0
  return chapters.map(chapter => ({
    ...chapter,
    findings: chapter.findings.map((one: Finding) => {
      number += 1
      return {
        ...one,
        number: String(number),
        narrowTables: one.tables.filter(isNarrow),
        wideTables: one.tables.filter(table => !isNarrow(table)),
      }
    }),
  }))
}

function isNarrow({ length }: Table): boolean {
  return length === 'short narrow' || length === 'long narrow'
}
