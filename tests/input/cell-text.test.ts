import { expect, test } from 'vitest'
import { cellText } from '../../src/input/cell-text.ts'

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
