import type { KeyPath } from '../../input/problems.ts'
import { TOPOLOGIES, type TopologyKey } from '../../topologies/index.ts'
import type { Topology } from '../../topologies/topology.ts'
import { answerMisplaced } from './answer.ts'
import { takeBattery } from './battery.ts'
import { answerElsewhere } from './elsewhere.ts'
import { takeInverterWords } from './inverter.ts'
import { takeOptimisers } from './optimisers.ts'
import { isTable, type RawTable, type Rewrite } from './rewrite.ts'
import { kindMeant, topologyMeant } from './trade-words.ts'
import { takeWarranty, takeWarrantyOfOption } from './warranty.ts'
import { answerForms } from './wrong-forms.ts'

/** Words of an option that mean a key of one of its components. */
const COMPONENT_WORDS = ['inverter_kw', 'tier', 'optimisers', 'battery_kwh'] as const

/**
 * The words of one option: the trade's names for topology and kinds, the components that the topology cannot do without,
 * and what the quote says of them.
 */
export function takeOptionWords(rewrite: Rewrite, index: number): void {
  const path = ['options', index]
  const option = rewrite.table(path)
  if (option === null) return
  answerForms(rewrite, 'option', path)
  // Misnamed topology keys first; the rest once the components are there.
  answerElsewhere(rewrite, 'option', path, ['topology'])
  const topology = takeTopology(rewrite, path)
  takeKinds(rewrite, path, topology)
  const listed = !addUsualParts(option, topology)
  answerElsewhere(rewrite, 'option', path)
  rewrite.list([...path, 'components']).forEach((_, place) => {
    answerMisplaced(rewrite, 'component', [...path, 'components', place])
    answerMisplaced(rewrite, 'warranty', [...path, 'components', place, 'warranty'])
  })
  answerMisplaced(rewrite, 'warranty', [...path, 'warranty'])
  const components = rewrite.list([...path, 'components'])
  if (topology === null || components.length === 0 || !components.every(isTable)) {
    // Topology or components are wrong: report only that.
    for (const word of COMPONENT_WORDS) rewrite.drop([...path, word])
    return
  }
  takeInverterWords(rewrite, path, topology)
  takeOptimisers(rewrite, path, topology, listed)
  components.forEach((_, place) => {
    takeWarranty(rewrite, [...path, 'components', place, 'warranty'])
  })
  takeWarrantyOfOption(rewrite, path)
  takeBattery(rewrite, path)
}

function takeTopology(rewrite: Rewrite, path: KeyPath): Topology | null {
  const at = [...path, 'topology']
  const written = rewrite.at(at)
  if (typeof written !== 'string') return null
  const meant = asManyAs(rewrite, path, topologyMeant(written), written)
  if (meant === null) return null
  if (meant !== written) {
    rewrite.put(at, meant, at)
    rewrite.take(at, `topology: ${meant}`)
  }
  return TOPOLOGIES[meant]
}

/** 'Optimisers' in a word are those of all panels, unless the quote counts fewer. */
function asManyAs(rewrite: Rewrite, path: KeyPath, meant: TopologyKey | null, written: string): TopologyKey | null {
  if (meant === null || meant === written || TOPOLOGIES[meant].tracking !== 'all-optimisers') return meant
  const [fitted, panels] = [rewrite.at([...path, 'optimisers']), rewrite.at(['site', 'panels'])]
  const some = typeof fitted === 'number' && typeof panels === 'number' && fitted < panels
  return some ? 'string-some-optimisers' : meant
}

/** Names of the trade for the kinds of components, and for the one that an offer is about. */
function takeKinds(rewrite: Rewrite, path: KeyPath, topology: Topology | null): void {
  const inverter = topology?.needs[0]?.[0] ?? null
  const name = (at: KeyPath): void => {
    const written = rewrite.at(at)
    const kind = typeof written === 'string' ? kindMeant(written, inverter) : null
    if (kind === null || kind === written) return
    rewrite.put(at, kind, at)
    rewrite.take(at, `kind: ${kind}`)
  }
  rewrite.list([...path, 'components']).forEach((_, place) => {
    name([...path, 'components', place, 'kind'])
  })
  rewrite.list([...path, 'warranty_offers']).forEach((_, place) => {
    name([...path, 'warranty_offers', place, 'component'])
  })
}

/** An option that lists no components gets those that its topology cannot do without. */
function addUsualParts(option: RawTable, topology: Topology | null): boolean {
  if (option.components !== undefined && option.components !== null) return false
  // With a wrong topology, a gateway without price is put in, so that only the topology is reported.
  option.components =
    topology === null ? [{ kind: 'gateway', replacement: { parts: 0 } }] : topology.needs.map(([kind]) => ({ kind }))
  return true
}
