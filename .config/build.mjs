/**
 * `npm run build`: the program with its libraries as a few files of JavaScript in dist/, so that a command starts without
 * opening hundreds. Entry points keep their place (workers are opened by path); shared code lies in dist/cli/.
 */
import { mkdirSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { build } from 'esbuild'

const root = fileURLToPath(new URL('..', import.meta.url))

/**
 * Builds the program.
 *
 * @param {string} folder - where it goes; emptied first
 */
export async function buildProgram(folder = `${root}dist`) {
  rmSync(folder, { recursive: true, force: true })
  const { metafile } = await build({
    absWorkingDir: root,
    entryPoints: ['src/cli/main.ts', 'src/analysis/worker.ts', 'src/fleet/worker.ts'],
    outbase: 'src',
    outdir: folder,
    chunkNames: 'cli/[name]-[hash]',
    bundle: true,
    splitting: true,
    format: 'esm',
    platform: 'node',
    target: 'node20',
    // it starts threads from a file of its own, which a bundle would lose
    external: ['piscina'],
    // libraries in the older module form ask for `require`
    banner: {
      js: "import { createRequire as createRequireOfBundle } from 'node:module'; const require = createRequireOfBundle(import.meta.url);",
    },
    metafile: true,
    // constants of other files become figures where they are read
    minifySyntax: true,
    logLevel: 'warning',
  })
  mkdirSync(folder, { recursive: true })
  writeFileSync(`${folder}/licences.txt`, licences(Object.keys(metafile.inputs)))
}

/** The licences of the libraries that are in the files, as they ask for. */
function licences(inputs) {
  const packages = new Set(inputs.flatMap(input => /^(node_modules\/(?:@[^/]+\/)?[^/]+)\//.exec(input)?.[1] ?? []))
  return [...packages]
    .sort()
    .map(folder => {
      const file = readdirSync(`${root}${folder}`).find(name => /^licen[cs]e(\.|$)/i.test(name))
      const { name, version, license } = JSON.parse(readFileSync(`${root}${folder}/package.json`, 'utf8'))
      const text = file === undefined ? `Licence: ${license}` : readFileSync(`${root}${folder}/${file}`, 'utf8').trim()
      return `${name} ${version}\n\n${text}\n`
    })
    .join('\n----\n\n')
}

/** Whether dist/ is missing or older than anything it is made from. */
export function isStale() {
  const built = changedAt('dist/licences.txt')
  const sources = readdirSync(`${root}src`, { recursive: true }).map(file => `src/${file}`)
  return ['package.json', 'package-lock.json', '.config/build.mjs', ...sources].some(file => changedAt(file) > built)
}

/** When a file was last written, milliseconds; long ago where there is none. */
function changedAt(file) {
  return statSync(`${root}${file}`, { throwIfNoEntry: false })?.mtimeMs ?? Number.NEGATIVE_INFINITY
}

if (process.argv[1] === fileURLToPath(import.meta.url)) await buildProgram(process.argv[2])
