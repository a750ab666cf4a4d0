/**
 * The docstring check: every exported function, type and constant of src/ has one.
 * `npm run check:docs`.
 */

import { readdirSync, readFileSync } from 'node:fs'
import ts from 'typescript'

const files = readdirSync('src', { recursive: true, encoding: 'utf8' })
  .filter(name => name.endsWith('.ts') && !name.endsWith('.d.ts'))
  .map(name => `src/${name.replaceAll('\\', '/')}`)
  .sort()
let exported = 0
const faults = files.flatMap(faultsOf)
for (const fault of faults) console.error(fault)
console.log(`docstrings: ${exported} exports in ${files.length} files, ${faults.length} faults`)
process.exitCode = faults.length === 0 ? 0 : 1

/** One line for each export of a file that lacks a docstring. */
function faultsOf(file: string): string[] {
  const source = ts.createSourceFile(file, readFileSync(file, 'utf8'), ts.ScriptTarget.Latest, true)
  return source.statements.filter(isExported).flatMap(statement => {
    exported++
    const text = ts
      .getJSDocCommentsAndTags(statement)
      .filter(ts.isJSDoc)
      .map(doc => ts.getTextOfJSDocComment(doc.comment) ?? '')
      .join(' ')
    if (text.trim() !== '' || isOverload(statement)) return []
    const { line } = source.getLineAndCharacterOfPosition(statement.getStart())
    return [`${file}:${line + 1}  ${nameOf(statement)} has no docstring`]
  })
}

function isExported(statement: ts.Statement): boolean {
  if (!ts.canHaveModifiers(statement)) return false
  return ts.getModifiers(statement)?.some(modifier => modifier.kind === ts.SyntaxKind.ExportKeyword) ?? false
}

/** The body of an overloaded function: its signatures carry the words. */
function isOverload(statement: ts.Statement): boolean {
  if (!ts.isFunctionDeclaration(statement) || statement.body === undefined) return false
  const name = statement.name?.text
  return statement
    .getSourceFile()
    .statements.some(other => ts.isFunctionDeclaration(other) && other.body === undefined && other.name?.text === name)
}

function nameOf(statement: ts.Statement): string {
  if (ts.isVariableStatement(statement)) return statement.declarationList.declarations.map(d => d.name.getText()).join()
  if (ts.isDeclarationStatement(statement)) return statement.name?.getText() ?? 'export'
  return 'export'
}
