import type { LaterPurchase, Option } from '../model.ts'
import { keyWords } from '../schema/key-words.ts'
import type { GivenOption } from '../schema/option.ts'
import type { Resolution } from './resolution.ts'

/**
 * What may be bought for an option later (C8).
 *
 * @param option - as written
 * @param resolution - takes the values
 */
export function completeLater(option: GivenOption, resolution: Resolution): LaterPurchase[] {
  return (option.later ?? []).map(purchase => {
    const quantity = (key: 'year' | 'chance' | 'cost', scale: 'log' | 'logit'): LaterPurchase['year'] => {
      const name = `${option.name} / later.${purchase.name}.${key}`
      return resolution.quantity({
        key: name,
        scale,
        given: purchase[key],
        filling: { choice: 1, remark: 'bought for certain unless given' },
        unknownName: name,
        evidenceName: '',
        label: `${keyWords(`later.${key}`)}: ${purchase.name} (${option.name})`,
        evidenceLabel: '',
        read: true,
        evidenceDrawn: false,
      })
    }
    return {
      name: purchase.name,
      year: quantity('year', 'log'),
      chance: quantity('chance', 'logit'),
      cost: quantity('cost', 'log'),
    }
  })
}

/**
 * Adds a note where options differ in what may be bought for them later: they do not do the same job (C8).
 *
 * @param options - complete
 * @param resolution - takes the note
 */
export function noteLater(options: readonly Option[], resolution: Resolution): void {
  const namesOf = (option: Option): string =>
    option.later
      .map(({ name }) => name)
      .sort()
      .join(', ')
  const named = options.map(namesOf)
  if (new Set(named).size < 2) return
  const each = options.map((option, i) => `${option.name}: ${named[i] || 'nothing'}`).join('; ')
  resolution.note(
    'later-differs',
    `Options differ in what may be bought for them later (${each}). No verdict is given between those; a later purchase belongs in every option that could have it, at that option’s price.`,
  )
}
