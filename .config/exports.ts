/**
 * What src/ exports, with its docstrings: the check of docstrings and the reference are made from it.
 */

import { readdirSync, readFileSync } from 'node:fs'
import ts from 'typescript'

/** An exported function, type, class or constant. */
export interface Exported {
  readonly file: string
  readonly line: number
  readonly name: string
  /** Its declaration without a body. */
  readonly signature: string
  /** Its docstring as it stands, without the comment marks; empty if it has none. */
  readonly doc: string
  /** The body of an overloaded function: its signatures carry the words. */
  readonly overload: boolean
  /** Public members of a class. */
  readonly members: readonly { readonly signature: string; readonly doc: string }[]
}

/** All source files of src/, in order. */
export const FILES = readdirSync('src', { recursive: true, encoding: 'utf8' })
  .filter(name => name.endsWith('.ts') && !name.endsWith('.d.ts'))
  .map(name => `src/${name.replaceAll('\\', '/')}`)
  .sort()

/** The exports of one file, in order. */
export function exportsOf(file: string): Exported[] {
  const source = ts.createSourceFile(file, readFileSync(file, 'utf8'), ts.ScriptTarget.Latest, true)
  return source.statements.filter(isExported).map(statement => ({
    file,
    line: source.getLineAndCharacterOfPosition(statement.getStart()).line + 1,
    name: nameOf(statement),
    signature: signatureOf(statement),
    doc: docOf(statement),
    overload: isOverload(statement),
    members: ts.isClassDeclaration(statement) ? membersOf(statement) : [],
  }))
}

function isExported(statement: ts.Statement): boolean {
  if (!ts.canHaveModifiers(statement)) return false
  return ts.getModifiers(statement)?.some(modifier => modifier.kind === ts.SyntaxKind.ExportKeyword) ?? false
}

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

function docOf(node: ts.Node): string {
  return ts
    .getJSDocCommentsAndTags(node)
    .filter(ts.isJSDoc)
    .map(doc =>
      doc
        .getText()
        .replace(/^\/\*\*|\*\/$/g, '')
        .replace(/^\s*\* ?/gm, '')
        .trim(),
    )
    .join('\n')
}

/** The text up to the body or the value. */
function signatureOf(node: ts.Node): string {
  const text = node.getText()
  const from = node.getStart()
  if (ts.isClassDeclaration(node)) return text.slice(0, text.indexOf('{')).trim()
  if (ts.isVariableStatement(node)) return text.slice(0, text.indexOf('=')).trim()
  if (
    (ts.isFunctionDeclaration(node) || ts.isMethodDeclaration(node) || ts.isGetAccessor(node)) &&
    node.body !== undefined
  )
    return text.slice(0, node.body.getStart() - from).trim()
  if (ts.isConstructorDeclaration(node) && node.body !== undefined)
    return text.slice(0, node.body.getStart() - from).trim()
  return text
}

function membersOf(node: ts.ClassDeclaration): Exported['members'] {
  return node.members
    .filter(member => member.name === undefined || !ts.isPrivateIdentifier(member.name))
    .map(member => ({ signature: signatureOf(member), doc: docOf(member) }))
    .filter(({ doc }) => doc !== '')
}
