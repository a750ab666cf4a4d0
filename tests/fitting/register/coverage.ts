import { FAILED_WHEN, inventedOwner, type OwnerTruth } from './invented-owner.ts'
import { decided, fitOwner, placedTickets, readOwner } from './read-owner.ts'

/** How often the truth lay in its 90 % interval. */
export interface Coverage {
  readonly seeds: number
  readonly shape: number
  readonly life: number
  readonly b10: number
  readonly byTenYears: number
  /** Seeds in which tickets were lost or counted twice. */
  readonly misplaced: number
}

const TRUTH: OwnerTruth = { shape: 2.4, lifeYears: 14 }

/**
 * From two files with the errors of real ones to the interval, over many seeds.
 *
 * @param seeds - how many
 * @param nPlaces - size of each register
 */
export async function coverage(seeds: number, nPlaces: number): Promise<Coverage> {
  const held = { shape: 0, life: 0, b10: 0, byTenYears: 0, misplaced: 0 }
  const b10 = TRUTH.lifeYears * (-Math.log(0.9)) ** (1 / TRUTH.shape)
  const byTen = 1 - Math.exp(-((10 / TRUTH.lifeYears) ** TRUTH.shape))
  for (let seed = 0; seed < seeds; seed++) {
    const { register, tickets } = inventedOwner(seed, nPlaces, TRUTH)
    const files = await readOwner(register, tickets, { failedWhen: FAILED_WHEN, skipBadRows: true })
    if (placedTickets(files) !== decided(files, 'ticket-rows')) held.misplaced++
    const group = (await fitOwner(files)).groups[0]
    const holds = (bounds: readonly [number | null, number | null] | undefined, value: number) =>
      bounds !== undefined && (bounds[0] ?? 0) <= value && value <= (bounds[1] ?? Infinity) ? 1 : 0
    const parameters = group?.models.find(model => model.name === 'weibull')?.parameters
    held.shape += holds(parameters?.shape?.profile90, TRUTH.shape)
    held.life += holds(parameters?.characteristicLife?.profile90, TRUTH.lifeYears)
    held.b10 += holds(group?.b10?.profile90, b10)
    held.byTenYears += holds(group?.failedBy.find(({ years }) => years === 10)?.profile90, byTen)
  }
  return { seeds, ...held }
}
