import { figureOf } from '../../evidence/index.ts'
import type { EvidenceRowKey } from '../../evidence/rows.ts'
import { type ComponentKind, kindWords } from '../../topologies/kinds.ts'
import type { Provider } from '../model.ts'
import { keyWords } from '../schema/key-words.ts'
import type { GivenOption } from '../schema/option.ts'
import type { Given } from '../schema/range.ts'
import type { GivenScenario } from '../schema/scenario.ts'
import type { Resolution } from './resolution.ts'

const MAKER_KEY = 'warranty_provider.exit_rate_per_year'
const INSTALLER_KEY = 'labour_provider.exit_rate_per_year'

/** Who provides the covers; one name is one provider, whichever option names it (W5). */
export class Providers {
  readonly #rates = new Map<string, Given>()

  constructor(
    given: GivenScenario,
    readonly resolution: Resolution,
  ) {
    // A rate given once for a name holds wherever the name is used; the rules have checked that all agree.
    for (const option of given.options)
      for (const provider of [option.warranty_provider, option.labour_provider])
        if (provider?.name !== undefined && provider.exit_rate_per_year !== undefined)
          this.#rates.set(provider.name, provider.exit_rate_per_year)
  }

  /** Who provides parts cover. The sweep of the term (V1) always reads its exit. */
  maker(option: GivenOption, row: EvidenceRowKey | null, kind: ComponentKind | null): Provider {
    const name = option.warranty_provider?.name ?? `maker of ${option.name}`
    const given = this.#rateOf(option.warranty_provider, name)
    // Kinds without evidence take the plain row: the one figure the range was stated for.
    const figure = figureOf(row ?? 'string-inverter plain', MAKER_KEY)
    const exitRatePerYear = this.#exit(option, name, MAKER_KEY, given, figure, true, {
      name: `evidence ${kind ?? 'maker'} ${MAKER_KEY.replace('.', ' ')}`,
      label: `${keyWords(MAKER_KEY)} (${kind === null ? 'makers' : `makers of ${kindWords(kind, 2)}`}, evidence)`,
    })
    return { name, exitRatePerYear }
  }

  /** Who provides labour cover; not drawn where nothing is covered (U1). */
  installer(option: GivenOption, labourCovered: boolean): Provider {
    const name = option.labour_provider?.name ?? `installer of ${option.name}`
    const given = this.#rateOf(option.labour_provider, name)
    const figure = figureOf(null, INSTALLER_KEY)
    const exitRatePerYear = this.#exit(option, name, INSTALLER_KEY, given, figure, labourCovered, {
      name: `evidence ${INSTALLER_KEY.replace('.', ' ')}`,
      label: `${keyWords(INSTALLER_KEY)} (evidence)`,
    })
    return { name, exitRatePerYear }
  }

  #rateOf(written: { readonly exit_rate_per_year?: Given | undefined } | undefined, name: string): Given | undefined {
    return written?.exit_rate_per_year ?? this.#rates.get(name)
  }

  #exit(
    option: GivenOption,
    name: string,
    key: string,
    given: Given | undefined,
    figure: ReturnType<typeof figureOf>,
    read: boolean,
    evidence: { readonly name: string; readonly label: string },
  ): Provider['exitRatePerYear'] {
    return this.resolution.quantity({
      key: `${option.name} / ${key}`,
      scale: 'log',
      given,
      filling: { figure },
      unknownName: `provider ${name} / exit_rate_per_year`,
      evidenceName: evidence.name,
      label: `${keyWords(key)} (${name})`,
      evidenceLabel: evidence.label,
      read,
      evidenceDrawn: true,
    })
  }
}
