import type { Chapter, Finding } from './content.ts'

/**
 * Chapters whose findings have their number, counted from 1 through all of them.
 *
 * @param chapters - in the order in which they are printed
 */
export function numbered(chapters: readonly Chapter[]) {
  let number = 0
  return chapters.map(chapter => ({
    ...chapter,
    findings: chapter.findings.map((one: Finding) => {
      number += 1
      return { ...one, number: String(number) }
    }),
  }))
}
