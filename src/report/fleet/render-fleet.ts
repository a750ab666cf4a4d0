import type { FleetResults } from '../../fleet/fleet-results.ts'
import type { Chapter } from '../content.ts'
import { formatNumber } from '../format/number.ts'
import { numbered } from '../numbered.ts'
import { renderTemplate } from '../render-template.ts'
import { firstRoofs, roofsSentence, yearsSentence } from './first-roofs.ts'
import { type FleetView, fleetViewOf } from './fleet-view.ts'
import { laterSentence, pooledReserve, setAside, shortOf, sureOf } from './pooled-reserve.ts'
import { commonCause, pooling } from './pooling.ts'
import { modelRisk, warrantyRisk } from './risk.ts'
import { leftOut, whatHappens } from './sites.ts'
import { wearOut } from './wear-out.ts'
import { years } from './years.ts'

/**
 * fleet.html: one reserve for many sites, for the person who plans it.
 *
 * @param results - of the fleet
 * @param command - line that makes the file again
 * @returns one HTML file that needs no other
 */
export function renderFleetReport(results: FleetResults, command: string): string {
  const view = fleetViewOf(results)
  const missing = leftOut(view)
  const parts: Chapter[] = [
    {
      id: 'the-reserve',
      title: 'The reserve',
      lead: [],
      findings: [firstRoofs(view), pooledReserve(view), years(view), pooling(view)],
    },
    {
      id: 'the-risk',
      title: 'Where the risk is',
      lead: [],
      findings: [modelRisk(view), warrantyRisk(view), wearOut(view), whatHappens(view)],
    },
    ...(missing === null ? [] : [{ id: 'not-played', title: 'What is not in it', lead: [], findings: [missing] }]),
  ]
  return renderTemplate('fleet', {
    title: view.name(results.fleet.title),
    facts: `${view.sites(results.fleet.played)}, ${view.horizon}, ${results.fleet.currency} in prices of the start date; ${formatNumber(results.draws, 1)} futures played for every site.`,
    answer: answer(view),
    parts: numbered(parts),
    cautions: cautions(view),
    reproduce: `${results.tool.name} ${results.tool.version}, seed ${results.seed}, ${formatNumber(results.draws, 1)} futures. The same sites, seed and draws give the same figures, on one machine or many. Every figure is in fleet.json, every site in sites.csv. Checksum of the sites: ${results.fleet.mark.slice(0, 16)}.`,
    command,
  })
}

function answer(view: FleetView): string[] {
  const { results } = view
  const { fleet, cash, diversification } = results
  const all = diversification.at(-1)
  const alone =
    all === undefined || all.sites === 1 || all.contribution.pooled >= all.contribution.alone
      ? ''
      : `To be as sure by a level deposit, a site for itself would need ${view.money(all.contribution.alone)} a year, one in the pool ${view.money(all.contribution.pooled)}. `
  const shared = commonCause(view)
  return [
    `${setAside(view)} ${shortOf(view)} ${sureOf(view)}`,
    `Over ${view.horizon} the bills are ${view.money(cash.mean)} on average, and stay under ${view.money(cash.p90)} in 9 of 10 futures. ${yearsSentence(view)}`,
    roofsSentence(view),
    ...laterSentence(view),
    ...(alone + shared === '' ? [] : [`${alone}${shared}`]),
    ...(fleet.leftOut === 0
      ? []
      : [
          `${view.sites(fleet.leftOut)} could not be played and ${fleet.leftOut === 1 ? 'is' : 'are'} in no figure; the last part says why.`,
        ]),
    ...results.notes.filter(({ code }) => code === 'ages-unknown').map(({ text }) => text),
  ]
}

function cautions(view: FleetView): string[] {
  return [
    'A future is one possible truth about prices, models and firms, the same for every site; within it each unit has its own luck.',
    'A list of sites tends to hold only units that still work. List a unit that replaced a failed one with its own, later date.',
    ...view.results.notes.filter(({ code }) => code !== 'ages-unknown').map(({ text }) => text),
  ]
}
