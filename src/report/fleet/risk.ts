import type { Carrier, ValueWithError } from '../../fleet/fleet-results.ts'
import { type Finding, finding, type Table, table } from '../content.ts'
import { formatNumber } from '../format/number.ts'
import { formatShare } from '../format/share.ts'
import { AS_ABOVE, FAILURES_KNOWN, type FleetView } from './fleet-view.ts'

/**
 * Which models carry the bills and the risk (F7).
 *
 * @param view - prepared results
 */
export function modelRisk(view: FleetView): Finding {
  const { models } = view.results
  return finding({
    id: 'models',
    topic: 'The models that carry the risk',
    sentence: sentence(view, models, 'model'),
    paragraphs: [
      'The share of risk is the part of the variance of all bills that comes from this model. A share of risk below its share of the bills makes the total steadier, one above it less steady.',
    ],
    tables: [
      risks(view, 'By model', ['Model', 'Bad batch'], models, [
        'A site is counted under the model of its first component.',
        'Dearer if so: mean bills of its sites in futures with a bad batch, less those without.',
      ]),
    ],
    margin: [AS_ABOVE, FAILURES_KNOWN],
  })
}

/**
 * Which warranties carry the bills and the risk (F7).
 *
 * @param view - prepared results
 */
export function warrantyRisk(view: FleetView): Finding {
  const { warranties } = view.results
  return finding({
    id: 'warranties',
    topic: 'The warranties that carry the risk',
    sentence: sentence(view, warranties, 'warranty provider'),
    paragraphs: [
      'A warranty pays only while its firm exists. When the firm stops, every roof it covers pays its own bills from then on.',
    ],
    tables: [
      risks(view, 'By warranty provider', ['Provider', 'Gone before the end'], warranties, [
        'Dearer if so: mean bills of its sites in futures in which it stops before the end, less those in which it stays.',
      ]),
    ],
    margin: [
      AS_ABOVE,
      { known: 'Judgement', text: 'How often makers stop is known only as a range unless the template says it.' },
    ],
  })
}

function sentence(view: FleetView, carriers: readonly Carrier[], one: string): string {
  const named = carriers.filter(carrier => carrier.name !== 'others')
  const [most] = [...named].sort((a, b) => (b.shareOfRisk ?? 0) - (a.shareOfRisk ?? 0))
  if (most === undefined) return `No ${one} is on enough sites to be named.`
  if (named.length === 1) return `All sites share one ${one}: what goes wrong with it goes wrong on all of them.`
  const risk = most.shareOfRisk === null ? '' : ` and ${said(most.shareOfRisk)} of the risk`
  return `Of ${named.length} ${one}s, ${view.name(most.name)} weighs most: ${said(most.shareOfCash)} of the bills${risk}, on ${view.sites(most.sites)}.`
}

function risks(
  view: FleetView,
  caption: string,
  [first, struck]: readonly [string, string],
  carriers: readonly Carrier[],
  remarks: readonly string[],
): Table {
  return table(
    `${caption}; bills to year ${view.horizonYears}, ${view.results.fleet.currency}`,
    [
      first,
      '#Sites',
      '#Bills, mean',
      '#Share of bills',
      '#Share of risk',
      '#Share in the worst tenth',
      `#${struck}`,
      '#Dearer if so',
    ],
    [...carriers]
      .sort((a, b) => b.meanCash - a.meanCash)
      .map(carrier => [
        view.name(carrier.name),
        formatNumber(carrier.sites, 1),
        view.bare({ value: carrier.meanCash, standardError: carrier.meanCashStandardError }),
        said(carrier.shareOfCash),
        carrier.shareOfRisk === null ? 'none' : said(carrier.shareOfRisk),
        said(carrier.shareInWorstTenth),
        carrier.chanceStruck === null ? 'not\u00a0counted' : said(carrier.chanceStruck),
        dearer(view, carrier.dearerWhenStruck),
      ]),
    remarks,
  )
}

/** A difference that chance alone could have made is not shown as one. */
function dearer(view: FleetView, difference: ValueWithError | null): string {
  if (difference === null) return 'not\u00a0seen'
  return Math.abs(difference.value) < 2 * difference.standardError ? 'within\u00a0chance' : view.bare(difference)
}

/** A share that may lie a little below 0 or above 1, as a part of a variance can. */
function said(share: number): string {
  return share < 0 ? `\u2212${formatShare(-share)}` : formatShare(share)
}
