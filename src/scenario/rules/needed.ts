import type { Problems } from '../../input/problems.ts'
import { evidenceRow, oneOfKind } from '../../topologies/kinds.ts'
import { failureForm } from '../schema/failure.ts'
import type { ScenarioDraft } from './index.ts'
import { componentsOf, isMonitor, type OptionPart, optionsOf } from './parts.ts'

/** Kinds that have no evidence must be told in full (section 12). */
export function checkNeeded(draft: ScenarioDraft, problems: Problems): void {
  for (const part of optionsOf(draft)) {
    const unmonitored = canBeUnmonitored(part)
    for (const { component, path } of componentsOf(part)) {
      if (component.kind === undefined || evidenceRow(component.kind, component.tier) !== null) continue
      const { kind } = component
      const need = (given: unknown, ...key: string[]) => {
        if (given === undefined && !problems.touches([...path, ...key]))
          problems.add([...path, ...key], `missing; there is no evidence on ${oneOfKind(kind)}, so it must be given`)
      }
      const { failure, downtime, warranty } = component
      // Looked at only for which form is there; what the form holds may have gaps.
      need(failureForm(failure as Parameters<typeof failureForm>[0]) ?? undefined, 'failure')
      need(downtime?.detect_days, 'downtime', 'detect_days')
      if (unmonitored) need(downtime?.detect_days_unmonitored, 'downtime', 'detect_days_unmonitored')
      need(downtime?.respond_days, 'downtime', 'respond_days')
      need(downtime?.repair_days, 'downtime', 'repair_days')
      need(warranty?.years, 'warranty', 'years')
      need(warranty?.labour_years, 'warranty', 'labour_years')
      need(warranty?.claim_success, 'warranty', 'claim_success')
    }
  }
}

function canBeUnmonitored(part: OptionPart): boolean {
  return part.option.monitoring === 'none' || componentsOf(part).some(isMonitor)
}
