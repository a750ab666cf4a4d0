import type { Piscina } from 'piscina'

/** Worker threads that take up tasks by name. */
export type ThreadPool = Piscina

/**
 * Opens worker threads that all start with the same data. The library is loaded only here and now: most of the time of a
 * short run is its start.
 *
 * @param importer - `import.meta.url` of the caller; its folder holds `worker.ts`, or `worker.js` once built
 * @param threads - how many, >= 1
 * @param data - handed to each as `workerData`; must survive structured cloning
 * @returns the pool; the caller destroys it
 */
export async function openThreadPool(importer: string, threads: number, data: unknown): Promise<ThreadPool> {
  const { Piscina } = await import('piscina')
  const source = importer.endsWith('.ts')
  return new Piscina({
    filename: new URL(source ? './worker.ts' : './worker.js', importer).href,
    minThreads: threads,
    maxThreads: threads,
    workerData: data,
    ...(source ? { execArgv: ['--import', teachTypeScript()] } : {}),
  })
}

/**
 * A worker started from source must be taught TypeScript by a call of its own: what `--import tsx` registers holds for
 * the main thread alone (Node 20).
 */
function teachTypeScript(): string {
  const loader = import.meta.resolve('tsx/esm/api')
  return `data:text/javascript,import{register}from${JSON.stringify(loader)};register()`
}
