import { readFileSync } from 'node:fs'

/** Ticks a second in /proc; fixed by the kernel's interface (proc(5), USER_HZ). */
const TICKS = 100

/**
 * Processor time that a process has used: shows that it works, on a busy machine as on a quiet one.
 *
 * @param pid - a running process
 * @returns seconds in user and system mode; 0 when it has ended
 */
export function processorSeconds(pid: number | undefined): number {
  try {
    const fields = readFileSync(`/proc/${pid}/stat`, 'utf8')
      .replace(/^.*\) /, '')
      .split(' ')
    return (Number(fields[11]) + Number(fields[12])) / TICKS
  } catch {
    return 0
  }
}
