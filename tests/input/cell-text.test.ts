import { expect, test } from 'vitest'
import { cellsOfLine, cellText, csvLine } from '../../src/input/cell-text.ts'
import { readCsv } from '../../src/input/csv.ts'

test.each([
  '=1+1',
  '+1+1',
  '-1+1',
  '-2+3+cmd|x',
  '@SUM(A1)',
  '\t=1',
  ' =1',
  '\r=1',
  '\uff1d1',
  '\uff0d1',
  '-',
  '-5',
  '+5',
])('%j would run in a spreadsheet and gets an apostrophe', text =>
  expect(cellText(text)).toBe(`'${text.replace('\r', '␍')}`),
)

test.each(['3', '', 'A-1', 'a=b', '<b>', "'=1"])('%j stays as it is', text => expect(cellText(text)).toBe(text))

test('cells of a line are read as they were written, also with separators, quotation marks and line ends', () => {
  const cells = ['a', '', 'b, c', 'say "d"', '"', 'two\nlines', 'e;f', 'g\r\nh']
  const [row] = readCsv(csvLine(['1', '2', '3', '4', '5', '6', '7', '8']) + csvLine(cells), 'r.csv').rows
  expect(Object.values(row?.cells ?? {})).toEqual(cells)
  expect(cellsOfLine(csvLine(cells).slice(0, -1))).toEqual(cells)
})
