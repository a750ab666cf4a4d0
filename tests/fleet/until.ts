/**
 * Waits until something holds, looking 50 times a second.
 *
 * @throws Error when it does not within so many seconds
 */
export async function until(what: string, holds: () => boolean, seconds: number): Promise<void> {
  const end = performance.now() + 1000 * seconds
  while (!holds()) {
    if (performance.now() > end) throw new Error(`waited ${seconds} s in vain: ${what}`)
    await new Promise(resolve => setTimeout(resolve, 20))
  }
}
