import type { ModelCarrier } from '../../fleet/fleet-results.ts'
import { lineChart } from '../charts/lines.ts'
import { lineKey, optionLook } from '../charts/look.ts'
import { type Finding, finding, type Picture, table } from '../content.ts'
import { formatNumber } from '../format/number.ts'
import { formatShare } from '../format/share.ts'
import { AS_ABOVE, FAILURES_KNOWN, type FleetView } from './fleet-view.ts'

// Ours: more lines would be hard to follow.
const MOST_LINES = 7

/**
 * When many units reach wear-out together (F7).
 *
 * @param view - prepared results
 */
export function wearOut(view: FleetView): Finding {
  const models = [...view.results.models].sort((a, b) => b.sites - a.sites).slice(0, MOST_LINES)
  const peaks = models.filter(hasPeak).sort((a, b) => b.shareAroundPeak * b.sites - a.shareAroundPeak * a.sites)
  const [most] = peaks
  return finding({
    id: 'wear-out',
    topic: 'When many wear out together',
    sentence:
      most === undefined
        ? 'No original unit failed in any future played.'
        : `The largest wave is that of ${view.name(most.name)}: in the three years around year ${most.peakYear + 1}, ${formatShare(most.shareAroundPeak)} of its ${formatNumber(most.sites, 1)} original units fail.`,
    paragraphs: [
      'Only units that are on the roofs today are counted here; their replacements fail later and more spread out.',
    ],
    figures: [waves(view, models, peaks)],
    tables: [
      table(
        'Waves of wear-out',
        ['Model', '#Sites', '#Year of most', '#Failing then, mean', '#Three years around it'],
        peaks.map(model => [
          view.name(model.name),
          formatNumber(model.sites, 1),
          `${model.peakYear + 1}`,
          view.count(model.firstFailuresByYear[model.peakYear] ?? 0, 0.1),
          formatShare(model.shareAroundPeak),
        ]),
      ),
    ],
    margin: [AS_ABOVE, FAILURES_KNOWN],
  })
}

function waves(view: FleetView, models: readonly ModelCarrier[], peaks: readonly WithPeak[]): Picture {
  return {
    heading: 'Original units that fail in each year',
    key: models.map((model, place) => lineKey(optionLook(place), view.name(model.name))),
    svg: lineChart(
      {
        id: 'waves',
        title: 'Original units that fail in each year, by model',
        description: peaks.map(model => `${view.name(model.name)}: most in year ${model.peakYear + 1}`).join('. '),
      },
      {
        series: models.map((model, place) => ({
          points: model.firstFailuresByYear.map((failures, year) => ({ x: year + 1, y: failures })),
          look: optionLook(place),
          end: { words: '' },
        })),
        xName: 'Year',
        yName: 'Units a year, mean',
        writeX: value => formatNumber(value, 1),
        writeY: value => formatNumber(value, value > 0 && value < 1 ? 0.1 : 1),
        yMust: [0, 1],
      },
    ),
  }
}

type WithPeak = ModelCarrier & { readonly peakYear: number; readonly shareAroundPeak: number }

function hasPeak(model: ModelCarrier): model is WithPeak {
  return model.peakYear !== null && model.shareAroundPeak !== null
}
