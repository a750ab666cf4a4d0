import type { Scenario } from '../../scenario/model.ts'

/**
 * A scenario from the template whose ± keys are those of the whole fleet (F3): an unknown that carries the name of the
 * site's model or provider gets the name of the key alone. A model's multiplier keeps its name.
 *
 * @param scenario - of one site
 */
export function sharedUnknowns(scenario: Scenario): Scenario {
  const option = scenario.options[0]
  const models = scenario.models.map(({ name }) => `model ${name} / `)
  const providers = [option?.warrantyProvider.name, option?.labourProvider.name].map(name => `provider ${name} / `)
  const shorten = (name: string): string => {
    const model = models.find(prefix => name.startsWith(prefix))
    if (model !== undefined) return `model / ${name.slice(model.length)}`
    const provider = providers.findIndex(prefix => name.startsWith(prefix))
    if (provider < 0) return name
    return `${provider === 0 ? 'maker' : 'installer'} / ${name.slice(providers[provider]?.length ?? 0)}`
  }
  return {
    ...scenario,
    unknowns: scenario.unknowns.map(unknown => ({ ...unknown, name: shorten(unknown.name) })),
  }
}
