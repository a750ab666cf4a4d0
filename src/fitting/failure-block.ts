import { escapedJson, onOneLine } from '../plain-text.ts'
import { unitsPerYear } from './age-unit.ts'
import type { FitResult, GroupResult } from './fit-result.ts'

/**
 * The text of failure.yaml: what to put into a scenario so that it uses the records, with all their uncertainty.
 *
 * @param result - the fit
 * @param fitFile - path of fit.json as the scenario should name it
 * @returns YAML: the block `failure`, or with several groups one such block under the name of each
 */
export function failureYaml(result: FitResult, fitFile: string): string {
  const fitted = result.groups.filter(group => group.best !== null)
  const lines = [
    `# ${onOneLine(recordsName(result))}; ${saidOf(result.groups)}.`,
    '# Put the block `failure` under the component in your scenario. It includes the whole uncertainty of the fit.',
    '# The path is read relative to the scenario file.',
  ]
  for (const group of fitted) {
    lines.push('', `# ${onOneLine(group.name)}; ${saidOf([group])}. Best estimate:`, ...bestLines(group, result))
    if (fitted.length === 1) lines.push('failure:', `  records: ${yamlText(fitFile)}`)
    else {
      lines.push(`${yamlText(group.name)}:`, '  failure:')
      lines.push(`    records: ${yamlText(`${fitFile}#${group.name}`)}`)
    }
  }
  return `${lines.join('\n')}\n`
}

/**
 * The files the records came from, as the user named them.
 *
 * @param result - the fit
 * @returns e.g. 'units.csv and tickets.csv'
 */
export function recordsName({ records, ownerFiles }: FitResult): string {
  return ownerFiles === null ? records : `${ownerFiles.register} and ${ownerFiles.tickets}`
}

/**
 * What the records are, in a few words.
 *
 * @param groups - which groups
 * @returns e.g. '37 failures among 412 units'
 */
export function saidOf(groups: readonly Pick<GroupResult, 'failed' | 'units'>[]): string {
  const failed = groups.reduce((sum, group) => sum + group.failed, 0)
  const units = groups.reduce((sum, group) => sum + group.units, 0)
  return `${failed} ${failed === 1 ? 'failure' : 'failures'} among ${units} ${units === 1 ? 'unit' : 'units'}`
}

function bestLines(group: GroupResult, result: FitResult): string[] {
  const perYear = unitsPerYear(result.ageUnit)
  const model = group.models.find(one => one.name === group.best)
  return (model?.modes ?? []).map(mode => {
    const share = mode.susceptible < 1 ? `, ${(100 * mode.susceptible).toPrecision(3)} % of units susceptible` : ''
    const life = (mode.characteristicLife / perYear).toPrecision(3)
    return `#   ${mode.cause}: shape ${mode.shape.toPrecision(3)}, characteristic life ${life} years${share}`
  })
}

/** Text in double quotes, which YAML reads as JSON does. */
function yamlText(text: string): string {
  return escapedJson(JSON.stringify(text))
}
