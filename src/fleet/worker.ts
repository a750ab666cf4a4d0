import { workerData } from 'node:worker_threads'
import { ChunkPlayer, type ChunkResult } from './play/chunk.ts'
import type { FleetFrame } from './play/fleet-frame.ts'
import type { SiteTicket } from './sites/site-stream.ts'

const player = new ChunkPlayer(frameOf(workerData))

/**
 * Plays a chunk of sites in a worker thread.
 *
 * @param tickets - sites in order
 */
export function playChunk(tickets: readonly SiteTicket[]): ChunkResult {
  return player.play(tickets)
}

/** Piscina passes the data of the pool as the second of two. */
function frameOf(data: unknown): FleetFrame {
  // the pool of this program is the only one that starts this file
  return (Array.isArray(data) ? data[1] : data) as FleetFrame
}
