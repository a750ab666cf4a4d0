/**
 * The reference of all that src/ exports, folder by folder, made from the docstrings.
 * `npm run reference` writes it to out/reference.md.
 */

import { mkdirSync, writeFileSync } from 'node:fs'
import { exportsOf, FILES } from './exports.ts'

const code = (text: string): string => `\`\`\`ts\n${text}\n\`\`\`\n`
const parts = FILES.flatMap(file => {
  const exported = exportsOf(file)
  if (exported.length === 0) return []
  return [
    `## ${file}\n`,
    ...exported.flatMap(({ name, signature, doc, members }) => [
      `### ${name}\n`,
      code(signature),
      `${doc}\n`,
      ...members.flatMap(member => [code(member.signature), `${member.doc}\n`]),
    ]),
  ]
})
mkdirSync('out', { recursive: true })
writeFileSync('out/reference.md', `# Reference\n\nMade from the docstrings of src/.\n\n${parts.join('\n')}`)
console.log(`${FILES.length} files: out/reference.md`)
