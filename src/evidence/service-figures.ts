import { EVIDENCE_ROWS, type EvidenceRowKey, type Figure } from './figure.ts'

/** p90 of the response divided by its median: lognormal with median 14 and p90 45 days. */
const RESPOND_P90_OVER_MEDIAN = 3.21

/** Anchor of maker exits: 3 % a year with range 1-8 %; the other rows keep the proportions of the range. */
const EXIT_RANGE = { value: 0.03, low: 0.01, high: 0.08 }

function downtimeFigures(row: EvidenceRowKey): Figure[] {
  const onRoof = row === 'panel-level-unit' || row === 'optimiser'
  const figure = (key: string, value: number, remark: string): Figure => ({
    row,
    key: `downtime.${key}`,
    value,
    low: null,
    high: null,
    unit: 'days',
    source: key.startsWith('detect') ? 'consumerDetection' : 'judgement',
    known: 'judgement',
    remark,
  })
  const detect =
    row === 'gateway'
      ? [figure('detect_days', 30, 'The owner sees a grey app and lets it stand.')]
      : [
          figure('detect_days.median', onRoof ? 7 : 3, 'Noticed within days where monitoring works.'),
          figure(
            'detect_days.p90',
            onRoof ? 30 : 7,
            'Upper end of the range, read as a p90 by choice of this program.',
          ),
          figure(
            'detect_days_unmonitored.median',
            onRoof ? 120 : 45,
            onRoof ? 'One dead unit hides in the weather.' : 'Half a billing quarter.',
          ),
          figure(
            'detect_days_unmonitored.p90',
            onRoof ? 700 : 180,
            'Upper end of the range, read as a p90 by choice of this program.',
          ),
        ]
  const respond = row.startsWith('string-inverter') ? 10 : 14
  return [
    ...detect,
    figure('respond_days.median', respond, 'From detection to the visit, outside warranty.'),
    figure(
      'respond_days.p90',
      RESPOND_P90_OVER_MEDIAN * respond,
      '3.21 times the median: about two weeks typical, four months worst.',
    ),
    figure('repair_days', 0.2, 'The swap itself takes a few hours.'),
    figure(
      'claim_days',
      CLAIM_DAYS[row],
      'What waiting for the maker adds: a difference of medians, a choice of this program.',
    ),
  ]
}

const CLAIM_DAYS: Record<EvidenceRowKey, number> = {
  'string-inverter budget': 4,
  'string-inverter plain': 4,
  'string-inverter robust': 0,
  'hybrid-inverter': 7,
  'panel-level-unit': 0,
  optimiser: 0,
  gateway: 0,
}

interface Terms {
  readonly years: Pick<Figure, 'value' | 'low' | 'high' | 'source' | 'known' | 'remark'>
  readonly labourYears: number
  readonly claimSuccess: number
  readonly exit: number
}

const retailer = { low: null, high: null, source: 'retailerTerms', known: 'published' } as const
const judged = { low: null, high: null, source: 'judgement', known: 'judgement' } as const
const consumer = { source: 'consumerTerms', known: 'published' } as const

const TERMS: Record<EvidenceRowKey, Terms> = {
  'string-inverter budget': {
    years: { ...retailer, value: 5, remark: 'Low end of 5 to 15 years on offer.' },
    labourYears: 2,
    claimSuccess: 0.85,
    exit: 0.05,
  },
  'string-inverter plain': {
    years: { ...retailer, value: 10, remark: 'About the average of terms on offer.' },
    labourYears: 2,
    claimSuccess: 0.9,
    exit: 0.03,
  },
  'string-inverter robust': {
    years: { ...retailer, value: 12, remark: 'Long end of terms on offer; 20 years often at a price.' },
    labourYears: 5,
    claimSuccess: 0.95,
    exit: 0.02,
  },
  'hybrid-inverter': {
    years: { ...judged, value: 10, remark: 'Taken to be like a plain string inverter.' },
    labourYears: 2,
    claimSuccess: 0.85,
    exit: 0.03,
  },
  'panel-level-unit': {
    years: { ...consumer, value: 25, low: 10, high: 25, remark: '20 to 25 years common; 10 also seen.' },
    labourYears: 2,
    claimSuccess: 0.9,
    exit: 0.03,
  },
  optimiser: {
    years: { ...consumer, value: 25, low: null, high: null, remark: '25 years on the optimiser, 12 on its inverter.' },
    labourYears: 2,
    claimSuccess: 0.9,
    exit: 0.03,
  },
  gateway: {
    years: { ...judged, value: 5, remark: 'Small electronics.' },
    labourYears: 2,
    claimSuccess: 0.8,
    exit: 0.03,
  },
}

function warrantyFigures(row: EvidenceRowKey): Figure[] {
  const terms = TERMS[row]
  const exitFactor = terms.exit / EXIT_RANGE.value
  const labourRead = terms.labourYears === 2
  return [
    { row, key: 'warranty.years', unit: 'years', ...terms.years },
    {
      row,
      key: 'warranty.labour_years',
      value: terms.labourYears,
      low: null,
      high: null,
      unit: 'years',
      source: labourRead ? 'installerTerms' : 'judgement',
      known: labourRead ? 'published' : 'judgement',
      remark: labourRead
        ? 'Part only after that: removal, refit and diagnosis are excluded.'
        : 'A longer labour cover.',
    },
    {
      row,
      key: 'warranty.claim_success',
      value: terms.claimSuccess,
      low: null,
      high: null,
      unit: 'share',
      source: 'judgement',
      known: 'judgement',
      remark: 'Claims granted while the maker exists.',
    },
    {
      row,
      key: 'warranty_provider.exit_rate_per_year',
      value: terms.exit,
      low: EXIT_RANGE.low * exitFactor,
      high: EXIT_RANGE.high * exitFactor,
      unit: 'share per year',
      source: 'consumerAbandoned',
      known: 'judgement',
      remark: 'About a third of systems of mean age 6.5 to 10 years are said to be orphaned; judged from that.',
    },
  ]
}

/** Downtime, warranty and provider figures by row (O1, W1-W5; design section 12). */
export const SERVICE_FIGURES: readonly Figure[] = EVIDENCE_ROWS.flatMap(row => [
  ...downtimeFigures(row),
  ...warrantyFigures(row),
])
