import { availableParallelism } from 'node:os'
import { openThreadPool } from '../../simulation/thread-pool.ts'
import type { SiteTicket } from '../sites/site-stream.ts'
import { ChunkPlayer, type ChunkResult } from './chunk.ts'
import type { FleetFrame } from './fleet-frame.ts'

/**
 * Lifetimes (sites × draws) above which worker threads are worth their start. Ours: about two seconds of one thread.
 */
const LIFETIMES_THAT_PAY = 5_000_000

/** Plays chunks, here or in threads. */
export interface ChunkRunner {
  /** How many chunks may be under way at once. */
  readonly lanes: number
  readonly play: (tickets: readonly SiteTicket[]) => Promise<ChunkResult>
  readonly close: () => Promise<void>
}

/**
 * Prepares to play chunks.
 *
 * @param frame - of the fleet
 * @param threads - as asked; null: one, or all processors where the fleet is large
 */
export function openChunkRunner(frame: FleetFrame, threads: number | null): ChunkRunner {
  const wanted = threads ?? (frame.listed * frame.draws > LIFETIMES_THAT_PAY ? availableParallelism() : 1)
  if (wanted === 1) {
    const player = new ChunkPlayer(frame)
    return {
      lanes: 1,
      play: async tickets => {
        // lets signals and the progress bar be handled
        await new Promise(resolve => setImmediate(resolve))
        return player.play(tickets)
      },
      close: async () => {},
    }
  }
  const pool = openThreadPool('fleet', wanted, frame)
  return {
    lanes: wanted + 1,
    play: async tickets => (await pool).run(tickets, { name: 'playChunk' }),
    close: async () => (await pool).destroy(),
  }
}
