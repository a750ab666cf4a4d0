import { type Finding, finding, table } from '../content.ts'
import { formatNumber } from '../format/number.ts'
import { joinWords } from '../names.ts'
import { each, type FleetView } from './fleet-view.ts'

/** Reasons shown. Ours: sites.csv holds all. */
const MOST_SHOWN = 20

function failuresOf(count: string): string {
  return count === '1' ? '1 failure' : `${count} failures`
}

/**
 * Failures and lost energy of all sites (F7).
 *
 * @param view - prepared results
 */
export function whatHappens(view: FleetView): Finding {
  const { failures, lostKwh, fleet } = view.results
  return finding({
    id: 'failures',
    topic: 'Failures and lost energy',
    sentence: `In ${view.horizon} expect ${failuresOf(view.count(failures.mean))}, ${view.count(each(failures.mean, fleet.played), 0.01)} a site; in 9 of 10 futures fewer than ${view.count(failures.p90)}.`,
    paragraphs: [
      ...effects(view),
      `Over all sites failures lose ${view.count(each(lostKwh.mean, 1000), 0.1)} MWh on average, and more than ${view.count(each(lostKwh.p90, 1000), 0.1)} MWh in 1 of 10 futures. That energy is not in the reserve.`,
    ],
    margin: [
      {
        known: 'Yours',
        text: 'How long a repair takes is as your template says, else as the evidence has it.',
      },
    ],
  })
}

/** What the failures stop, where they do not all stop energy. */
function effects(view: FleetView): string[] {
  const { stopEnergy, monitoringOnly, batteryOnly } = view.results.failuresByEffect
  const others = [
    ...(monitoringOnly.value > 0 ? [`${view.count(monitoringOnly)} stop monitoring alone`] : []),
    ...(batteryOnly.value > 0 ? [`${view.count(batteryOnly)} the battery alone`] : []),
  ]
  return others.length === 0 ? [] : [`Of these failures ${view.count(stopEnergy)} stop energy, ${joinWords(others)}.`]
}

/**
 * Sites that were left out, with reasons (F5).
 *
 * @param view - prepared results
 * @returns null where all were played
 */
export function leftOut(view: FleetView): Finding | null {
  const { fleet, leftOut: sites } = view.results
  if (fleet.leftOut === 0) return null
  const shown = sites.slice(0, MOST_SHOWN)
  const more = fleet.leftOut - shown.length
  return finding({
    id: 'left-out',
    topic: 'Sites left out',
    sentence: `${view.sites(fleet.leftOut)} of ${formatNumber(fleet.listed, 1)} could not be played and ${fleet.leftOut === 1 ? 'is' : 'are'} in no figure.`,
    tables: [
      table(
        'Sites left out',
        ['Site', '#Line', 'Why'],
        shown.map(site => [
          site.id === '' ? 'without id' : view.name(site.id),
          site.line === null ? 'its own file' : `${site.line}`,
          view.name(site.reason),
        ]),
        more > 0 ? [`${formatNumber(more, 1)} more are in sites.csv.`] : [],
      ),
    ],
    margin: [{ known: 'Yours', text: 'Correct these and play the fleet again.' }],
  })
}
