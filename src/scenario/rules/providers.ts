import { isDeepStrictEqual } from 'node:util'
import { figureOf } from '../../evidence/index.ts'
import type { KeyPath, Problems } from '../../input/problems.ts'
import { evidenceRow } from '../../topologies/kinds.ts'
import type { Given } from '../schema/range.ts'
import type { ScenarioDraft } from './draft.ts'
import { type OptionPart, optionsOf } from './parts.ts'

interface Mention {
  readonly path: KeyPath
  /** As written; undefined where left out. */
  readonly rate: unknown
  /** What evidence would fill in. */
  readonly typical: number
}

/** One name is one provider with one chance of stopping (W5). */
export function checkProviders(draft: ScenarioDraft, problems: Problems): void {
  const byName = new Map<string, Mention[]>()
  for (const part of optionsOf(draft))
    for (const key of ['warranty_provider', 'labour_provider'] as const) {
      const provider = part.option[key]
      if (provider?.name === undefined) continue
      const path = [...part.path, key, 'exit_rate_per_year']
      if (problems.touches(path)) continue
      const mention = { path, rate: provider.exit_rate_per_year, typical: typicalRate(part, key) }
      byName.set(provider.name, [...(byName.get(provider.name) ?? []), mention])
    }
  for (const [name, mentions] of byName) compare(name, mentions, problems)
}

function compare(name: string, mentions: readonly Mention[], problems: Problems): void {
  const withRate = mentions.filter(mention => mention.rate !== undefined)
  const first = withRate[0]
  if (first !== undefined) {
    for (const mention of withRate)
      if (!isDeepStrictEqual(mention.rate, first.rate))
        problems.add(
          mention.path,
          `found ${words(mention.rate)}, but ${first.path.join('.')} says ${words(first.rate)}; "${name}" is one provider and has one rate`,
        )
    return
  }
  const differing = mentions.find(mention => mention.typical !== mentions[0]?.typical)
  if (differing !== undefined)
    problems.add(
      differing.path,
      `missing; for "${name}" the evidence has different rates (${percent(mentions[0]?.typical ?? 0)} and ${percent(differing.typical)} a year): write one`,
    )
}

function typicalRate(part: OptionPart, key: 'warranty_provider' | 'labour_provider'): number {
  if (key === 'labour_provider') return figureOf(null, 'labour_provider.exit_rate_per_year').value
  const first = part.option.components?.[0]
  const row = first?.kind === undefined ? null : evidenceRow(first.kind, first.tier)
  return figureOf(row ?? 'string-inverter plain', 'warranty_provider.exit_rate_per_year').value
}

// The walker passes on numbers and whole ranges only.
function words(rate: unknown): string {
  const given = rate as Given
  return typeof given === 'number' ? percent(given) : `${percent(given.low)} to ${percent(given.high)}`
}

function percent(share: number): string {
  return `${Number((share * 100).toFixed(2))}%`
}
