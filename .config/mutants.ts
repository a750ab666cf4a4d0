/** Small changes to a source file, one at a time: what `npm run mutate` tries. */

import ts from 'typescript'

/** A file with one place changed. */
export interface Mutant {
  readonly file: string
  /** From 1. */
  readonly line: number
  /** What was changed, as `before -> after`. */
  readonly words: string
  /** The whole file, changed. */
  readonly text: string
}

/** An operator, and what takes its place. */
const OPERATORS: Readonly<Record<string, string>> = {
  '<': '<=',
  '<=': '<',
  '>': '>=',
  '>=': '>',
  '===': '!==',
  '!==': '===',
  '+': '-',
  '-': '+',
  '*': '/',
  '/': '*',
  '+=': '-=',
  '-=': '+=',
  '&&': '||',
  '||': '&&',
  '&': '|',
  '|': '&',
}

/** A function, and what takes its place. */
const FUNCTIONS: Readonly<Record<string, string>> = {
  'Math.min': 'Math.max',
  'Math.max': 'Math.min',
  'Math.floor': 'Math.ceil',
  'Math.ceil': 'Math.floor',
}

/**
 * All changes to a file: operators, whole numbers, conditions, minima and maxima, and calls and assignments left out.
 *
 * @param file - its name
 * @param text - its source
 */
export function mutantsOf(file: string, text: string): Mutant[] {
  const source = ts.createSourceFile(file, text, ts.ScriptTarget.Latest, true)
  const found: Mutant[] = []
  const change = (node: ts.Node, after: string): void => {
    const [start, end] = [node.getStart(), node.getEnd()]
    const line = source.getLineAndCharacterOfPosition(start).line + 1
    const before = text.slice(start, end).replace(/\s+/g, ' ')
    const words = `${before.length > 60 ? `${before.slice(0, 60)}…` : before} -> ${after}`
    found.push({ file, line, words, text: text.slice(0, start) + after + text.slice(end) })
  }
  const visit = (node: ts.Node): void => {
    if (ts.isTypeNode(node) || ts.isImportDeclaration(node) || ts.isThrowStatement(node)) return
    if (ts.isBinaryExpression(node)) {
      const other = OPERATORS[node.operatorToken.getText()]
      if (other !== undefined) change(node.operatorToken, other)
    }
    // how large a column begins makes no difference: it grows
    if (ts.isNewExpression(node)) return
    if (ts.isNumericLiteral(node)) change(node, `${Number(node.text) + 1}`)
    if (ts.isIfStatement(node) || ts.isConditionalExpression(node)) {
      const condition = ts.isIfStatement(node) ? node.expression : node.condition
      change(condition, 'true')
      change(condition, 'false')
    }
    if (ts.isPropertyAccessExpression(node)) {
      const other = FUNCTIONS[node.getText()]
      if (other !== undefined) change(node, other)
    }
    if (ts.isExpressionStatement(node)) change(node, ';')
    if (ts.isContinueStatement(node)) change(node, ';')
    ts.forEachChild(node, visit)
  }
  visit(source)
  return found
}
