// Loaded before a measured command: writes what the process used when it ends.
import { writeFileSync } from 'node:fs'

process.on('exit', () => {
  const { userCPUTime, systemCPUTime, maxRSS } = process.resourceUsage()
  const usage = { cpuSeconds: (userCPUTime + systemCPUTime) / 1e6, peakMb: maxRSS / 1024 }
  if (process.env.BENCH_USAGE !== undefined) writeFileSync(process.env.BENCH_USAGE, JSON.stringify(usage))
})
