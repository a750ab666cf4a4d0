/**
 * What the templates place: strings, and lists of strings. Sections make it, `numbered.ts` numbers the findings.
 * Text is plain (the template escapes it); only the fields named `svg` are markup.
 */

/** A line of the key next to a chart. */
export interface KeyEntry {
  /** A small drawing of the line or pattern. */
  readonly svg: string
  readonly label: string
}

/** A picture with its heading and key in HTML. */
export interface Picture {
  readonly heading: string
  readonly key: readonly KeyEntry[]
  readonly svg: string
}

// Ours: what fits a third of a printed page, and half its width (characters, two a column for the gap).
const SHORT_ROWS = 14
const NARROW_CHARACTERS = 56
const NARROW_HEADING = 30
/** Characters after which the heading of a row wraps. */
const ROW_HEADING = 26

/** One cell; `kind` is the class that sets its alignment. */
export interface Cell {
  readonly kind: 'text' | 'number'
  readonly text: string
}

/** A table: the first cell of a row is its heading. */
export interface Table {
  /**
   * Classes: a short table is never cut across pages; a narrow one is in a column on paper; one is for phones, or for
   * all but phones.
   */
  readonly length: 'short' | 'short narrow' | 'long' | 'long narrow' | 'short phone' | 'short desk'
  readonly caption: string
  readonly head: readonly Cell[]
  readonly rows: readonly { readonly heading: string; readonly cells: readonly Cell[] }[]
  /** Lines under the table. */
  readonly remarks: readonly string[]
}

/** How well something is known, next to the text. */
export interface MarginNote {
  readonly known: string
  readonly text: string
  /** Where it comes from, in short; left out on paper, where the list of assumptions has it. */
  readonly from?: string
}

/** A list of points with the sentence that leads into it. */
export interface PointList {
  readonly lead: string
  readonly points: readonly string[]
}

/** One finding: a sentence one could repeat over the phone, and what backs it. */
export interface Finding {
  /** Anchor; kebab-case, the same in every report. */
  readonly id: string
  /** A few words for the contents. */
  readonly topic: string
  readonly sentence: string
  readonly paragraphs: readonly string[]
  readonly figures: readonly Picture[]
  readonly tables: readonly Table[]
  readonly lists: readonly PointList[]
  readonly margin: readonly MarginNote[]
}

/** A part of the report, written for one reader. */
export interface Chapter {
  readonly id: string
  readonly title: string
  readonly lead: readonly string[]
  readonly findings: readonly Finding[]
}

/**
 * A finding of which only the fields that are needed are given; the rest are empty.
 *
 * @param given - at least id and sentence; without a topic the sentence is used in the contents
 * @returns the whole finding
 */
export function finding(given: Pick<Finding, 'id' | 'sentence'> & Partial<Finding>): Finding {
  return { topic: given.sentence, paragraphs: [], figures: [], tables: [], lists: [], margin: [], ...given }
}

/**
 * A table from plain strings.
 *
 * @param caption - what the table shows
 * @param head - one heading a column; a heading that starts with `#` marks a column of numbers
 * @param rows - one string a column
 * @param remarks - lines under the table
 * @returns the table, with alignment a column
 */
export function table(
  caption: string,
  head: readonly string[],
  rows: readonly (readonly string[])[],
  remarks: readonly string[] = [],
): Table {
  const kinds = head.map(text => (text.startsWith('#') ? 'number' : 'text'))
  const cell = (text: string, column: number): Cell => ({ kind: kinds[column] ?? 'text', text })
  return {
    length: rows.length > SHORT_ROWS ? 'long' : isNarrow(head, rows) ? 'short narrow' : 'short',
    caption,
    head: head.map((text, column) => cell(text.replace(/^#/, ''), column)),
    rows: rows.map(([heading = '', ...cells]) => ({
      heading,
      cells: cells.map((text, index) => cell(text, index + 1)),
    })),
    remarks,
  }
}

/**
 * A table for phones only, or for all but phones: a table too wide for a phone is shown there in another form.
 *
 * @param where - where it is shown
 * @param shown - the table
 */
export function shownOn(where: 'phone' | 'desk', shown: Table): Table {
  return { ...shown, length: `short ${where}` }
}

/**
 * A table with rows and columns exchanged, for phones.
 *
 * @param shown - the table; the first cell of a row is its heading
 * @param heads - headings of the new columns, one a row
 * @returns the transposed table, without remarks
 */
export function turned(shown: Table, heads: readonly string[]): Table {
  return table(
    shown.caption,
    ['Figure', ...heads.map(head => `#${head}`)],
    shown.head.slice(1).map((cell, column) => [cell.text, ...shown.rows.map(row => row.cells[column]?.text ?? '')]),
  )
}

/** Headings of columns and rows may break between words, cells may not. */
function isNarrow(head: readonly string[], rows: readonly (readonly string[])[]): boolean {
  const widths = head.map((text, column) => {
    const widest = Math.max(0, ...rows.map(row => row[column]?.length ?? 0))
    const cells = column === 0 ? Math.min(widest, ROW_HEADING) : widest
    return Math.max(...text.split(/[\s#]/).map(word => word.length), cells)
  })
  const wide = widths.reduce((sum, width) => sum + width + 2, 0) > NARROW_CHARACTERS
  return !wide && head.every(text => text.length <= NARROW_HEADING)
}
