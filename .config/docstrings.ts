/**
 * The docstring check: every exported function, type and constant of src/ has one.
 * `npm run check:docs`.
 */

import { exportsOf, FILES } from './exports.ts'

const all = FILES.flatMap(exportsOf)
const faults = all.filter(({ doc, overload }) => doc === '' && !overload)
for (const { file, line, name } of faults) console.error(`${file}:${line}  ${name} has no docstring`)
console.log(`docstrings: ${all.length} exports in ${FILES.length} files, ${faults.length} faults`)
process.exitCode = faults.length === 0 ? 0 : 1
