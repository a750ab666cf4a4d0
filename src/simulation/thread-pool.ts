import type { Piscina } from 'piscina'

/** Worker threads that run tasks by name. */
export type ThreadPool = Piscina

/**
 * Opens worker threads that all start with the same data. The library is loaded only when needed, since most of the
 * time of a short run is its start.
 *
 * @param folder - folder of src that holds `worker.ts`
 * @param threads - how many, >= 1
 * @param data - handed to each as `workerData`; must survive structured cloning
 * @returns the pool; the caller destroys it
 */
export async function openThreadPool(
  folder: 'analysis' | 'fleet',
  threads: number,
  data: unknown,
): Promise<ThreadPool> {
  const { Piscina } = await import('piscina')
  const source = import.meta.url.endsWith('.ts')
  return new Piscina({
    // the same place from src/simulation/ and, once built, from dist/cli/
    filename: new URL(`../${folder}/worker.${source ? 'ts' : 'js'}`, import.meta.url).href,
    minThreads: threads,
    maxThreads: threads,
    workerData: data,
    ...(source ? { execArgv: ['--import', teachTypeScript()] } : {}),
  })
}

/**
 * A worker started from source has to register the loader of TypeScript itself: `--import tsx` registers it for the
 * main thread only (Node 20).
 */
function teachTypeScript(): string {
  const loader = import.meta.resolve('tsx/esm/api')
  return `data:text/javascript,import{register}from${JSON.stringify(loader)};register()`
}
