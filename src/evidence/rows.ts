/**
 * The figures of the evidence by kind of component: one entry a row, the only place to add or
 * correct one. Ranges are 10 % and 90 % points.
 */
import { per, perKw, type RowFigures } from './row.ts'
import { derived, type FigurePoints, judged, published, type Stated } from './stated.ts'

const early = (points: FigurePoints, weakest: string | null = null): Stated =>
  derived(
    points,
    'maintenanceTickets',
    'early share = 0.7 to 1.5 years of chance failures: tickets of the same plants in their first quarter are 1.91 (1.75 to 2.07) times those of year 2',
    'A small share fails early; its size is about one year of the chance rate.',
    weakest,
  )

const WEAR_SHAPE = judged([3.5, 2.5, 4.5], 'Two published points cannot fix the shape; hence a range.')

const respondOnWall = 10
const respondOther = 14

/** Noticed as an outage of the whole roof. */
const DARK_ROOF = { monitored: [3, 7], unmonitored: [45, 180] } as const
/** The loss of one failed unit of many is within what the weather varies. */
const ONE_OF_MANY = { monitored: [7, 30], unmonitored: [120, 700] } as const

const TWO_YEARS_LABOUR = published(
  2,
  'installerTerms',
  'Part only after that: removal, refit and diagnosis are excluded.',
)

const makerExit = derived(
  [0.03, 0.015, 0.06],
  'firmSurvival',
  '5.6 % of establishments in manufacturing close a year at age 5 to 10, times 0.5 that are bought rather than vanish: 2.9 %',
  'Makers that close, so that nobody honours the cover.',
)
const tierExit = (value: number): Stated =>
  judged([value, value / 2, 2 * value], 'The derived 3 % a year, changed by our judgement of the tier.')

const tieredLabour = published([300, 200, 500], 'consumerPrices', 'Three hours (two to five) at 100.')
const roofLabour = judged([100, 70, 160], 'One hour for the first unit.')

const PLAIN: RowFigures = {
  early: early([0.013, 0.005, 0.03]),
  chance: judged(
    [0.013, 0.005, 0.03],
    'Below the 2.8 % a year that the published 34.3 % by year 15 would give by chance alone.',
  ),
  wearOut: {
    shape: WEAR_SHAPE,
    life: judged([23.4, 19, 30], 'Solved so that 34.3 % have failed by year 15; a range only with model_spread 0.'),
    anchorAgeYears: 15,
    anchorShare: published(
      [0.343, 0.25, 0.45],
      'bucher2022',
      'First failures by year 15 of 1,195 home systems in Switzerland.',
    ),
  },
  spread: null,
  noticed: DARK_ROOF,
  respondMedianDays: respondOnWall,
  claimDays: 4,
  coverYears: published(10, 'retailerTerms', 'About the average of terms on offer.'),
  labourYears: TWO_YEARS_LABOUR,
  claimSuccess: 0.9,
  exit: makerExit,
  parts: perKw(180, points => published(points, 'tradePrices', 'Hardware of home inverters.')),
  labour: tieredLabour,
  labourEachFurther: null,
}

const BUDGET: RowFigures = {
  ...PLAIN,
  early: early([0.02, 0.005, 0.06], 'that a budget unit fails more is our judgement'),
  chance: judged([0.02, 0.01, 0.04], 'A fault centre abroad sees cheaper units wear out earlier; the number is ours.'),
  wearOut: {
    shape: WEAR_SHAPE,
    life: judged([19.4, 14, 24], 'Solved to meet the anchor of this row; a range only with model_spread 0.'),
    anchorAgeYears: 15,
    anchorShare: judged(0.518, '1.5 times the share of plain: that a budget unit fails more is our judgement.'),
  },
  coverYears: published(5, 'retailerTerms', 'Low end of 5 to 15 years on offer.'),
  claimSuccess: 0.85,
  exit: tierExit(0.05),
  parts: perKw(140, points => judged(points, 'Low end of prices seen.')),
}

const ROBUST: RowFigures = {
  ...PLAIN,
  early: judged([0.0065, 0.0065 / 4, 0.0065 * 3], 'Half of the plain row; the range p/4 to 3p is a choice.'),
  chance: judged([0.009, 0.004, 0.02], 'No independent field data show that a dearer unit fails less.'),
  wearOut: {
    shape: WEAR_SHAPE,
    life: judged([26.8, 22, 36], 'Solved to meet the anchor of this row; a range only with model_spread 0.'),
    anchorAgeYears: 15,
    anchorShare: judged(0.239, 'Two thirds of plain: that a robust unit fails less is our judgement.'),
  },
  claimDays: 0,
  coverYears: published(12, 'retailerTerms', 'Long end of terms on offer; 20 years often at a price.'),
  labourYears: judged(5, 'A longer labour cover.'),
  claimSuccess: 0.95,
  exit: tierExit(0.02),
  parts: perKw(240, points => published(points, 'tradePrices', 'Top of prices seen.')),
}

/** The figures of a plain string inverter, all of them judged, for a kind without figures of its own. */
function likePlain(spread: number, what: string): Pick<RowFigures, 'early' | 'chance' | 'wearOut' | 'spread'> {
  return {
    early: judged([0.013, 0.005, 0.03], what),
    chance: judged([0.013, 0.005, 0.03], what),
    wearOut: {
      shape: WEAR_SHAPE,
      life: judged([23.4, 19, 30], 'Solved to meet the anchor of this row; a range only with model_spread 0.'),
      anchorAgeYears: 15,
      anchorShare: judged([0.343, 0.25, 0.6], what),
    },
    spread: judged(spread, 'Less is known of it than of string inverters, so models may differ more.'),
  }
}

const HYBRID: RowFigures = {
  ...PLAIN,
  ...likePlain(0.6, 'No field rate was found; taken as a plain string inverter, with a wider spread.'),
  respondMedianDays: respondOther,
  claimDays: 7,
  coverYears: judged(10, 'Taken to be like a plain string inverter.'),
  claimSuccess: 0.85,
  parts: perKw(300, points => judged(points, 'Dearer than a string inverter.')),
  labour: judged([500, 300, 800], 'Five hours (three to eight) at 100.'),
}

const PANEL_LEVEL: RowFigures = {
  early: early([0.0025, 0.001, 0.006]),
  chance: judged(
    [0.0025, 0.0007, 0.008],
    'Just under the makers’ own claim of one in 300 unit-years; no independent field rate was found.',
  ),
  wearOut: {
    shape: judged([4, 2, 6], 'No wear-out has been observed; the shape is a guess.'),
    life: judged([47.5, 30, 70], 'Solved to meet the anchor of this row; a range only with model_spread 0.'),
    anchorAgeYears: 24,
    anchorShare: derived(
      [0.12, 0.03, 0.3],
      'afridi2023',
      'no failure among ten units: 1 − 0.5^(1/10) = 6.7 % at even odds, at most 26 % at 95 %; 12 % allows for what a heat test does not see',
      'Failed by 24 years. The 26 % of the test is an upper bound and not a middle.',
    ),
  },
  spread: judged(0.8, 'Less is known of it than of string inverters, so models may differ more.'),
  noticed: ONE_OF_MANY,
  respondMedianDays: respondOther,
  claimDays: 0,
  coverYears: published([25, 10, 25], 'consumerTerms', '20 to 25 years common; 10 also seen.'),
  labourYears: TWO_YEARS_LABOUR,
  claimSuccess: 0.9,
  exit: makerExit,
  parts: per('USD', published([160, 110, 300], 'tradePrices', 'One unit.')),
  labour: roofLabour,
  labourEachFurther: 50,
}

const OPTIMISER: RowFigures = {
  ...PANEL_LEVEL,
  chance: judged([0.0025, 0.0007, 0.008], 'As a panel-level unit: no independent field rate was found.'),
  wearOut: {
    shape: judged([4, 2, 6], 'As a panel-level unit: no wear-out has been observed.'),
    life: judged([47.5, 30, 70], 'As a panel-level unit.'),
    anchorAgeYears: 24,
    anchorShare: judged(
      [0.12, 0.03, 0.3],
      'As a panel-level unit, which is in the same place and has more parts; the one survey with optimisers finds that they live longest.',
    ),
  },
  coverYears: published(25, 'consumerTerms', '25 years on the optimiser, 12 on its inverter.'),
  parts: per('USD', judged(60, 'One unit.')),
}

const GATEWAY: RowFigures = {
  early: early([0.015, 0.00375, 0.045], 'the size follows a chance rate that is judged'),
  chance: judged(
    [0.015, 0.005, 0.04],
    'Small communicating boxes at houses (meters) fail under 1 % in their first year; lost links are common but need no part.',
  ),
  wearOut: {
    shape: judged([3, 2, 4], 'Small electronics; a guess.'),
    life: judged([18.3, 10, 30], 'Solved to meet the anchor of this row; a range only with model_spread 0.'),
    anchorAgeYears: 10,
    anchorShare: judged([0.28, 0.12, 0.5], 'Hardware only; links that are lost are not played.'),
  },
  spread: null,
  noticed: { byOwner: 30 },
  respondMedianDays: respondOther,
  claimDays: 0,
  coverYears: judged(5, 'Small electronics.'),
  labourYears: TWO_YEARS_LABOUR,
  claimSuccess: 0.8,
  exit: makerExit,
  parts: per('USD', judged(250, 'One unit.')),
  labour: judged([100, 70, 160], 'One hour.'),
  labourEachFurther: null,
}

const BATTERY: RowFigures = {
  ...HYBRID,
  ...likePlain(0.8, 'No field rate was found; taken as a plain string inverter, with a wide spread.'),
  claimDays: 0,
  coverYears: judged(10, 'Ten years are usual.'),
  labourYears: judged(2, 'Taken to be like an inverter.'),
  exit: judged([0.03, 0.015, 0.06], 'Taken to be like makers of inverters.'),
  parts: per('USD/kWh', judged([400, 250, 700], 'Hardware of home batteries; no source read.')),
  labour: judged([400, 300, 600], 'Four hours (three to six) at 100.'),
}

const DC_ISOLATOR: RowFigures = {
  early: derived(
    [0.024, 0.016, 0.08],
    'isolatorInspections',
    '1.5 % (1 to 5) of new systems have water in a roof isolator within a year; the early form gives 63 % of its share by then',
    'Of 1,910 to 3,678 systems inspected a year, 2.1 to 6.1 % were unsafe, most of them by water in an isolator.',
  ),
  chance: judged([0.005, 0.002, 0.015], 'After the first years.'),
  wearOut: null,
  spread: null,
  noticed: DARK_ROOF,
  respondMedianDays: respondOther,
  claimDays: 0,
  coverYears: judged(5, 'A small part.'),
  labourYears: judged(2, 'The workmanship cover of the installer.'),
  claimSuccess: 0.8,
  exit: judged([0.03, 0.015, 0.06], 'Taken to be like makers of inverters.'),
  parts: per('USD', judged([75, 50, 100], 'One switch in its box.')),
  labour: roofLabour,
  labourEachFurther: 50,
}

/** Every row by its name; topologies/kinds.ts names the row of each kind. */
export const ROWS = {
  'string-inverter budget': BUDGET,
  'string-inverter plain': PLAIN,
  'string-inverter robust': ROBUST,
  'hybrid-inverter': HYBRID,
  'panel-level-unit': PANEL_LEVEL,
  optimiser: OPTIMISER,
  gateway: GATEWAY,
  battery: BATTERY,
  'battery-inverter': {
    ...BATTERY,
    parts: per('USD/kW', judged([300, 200, 450], 'Taken to be like a hybrid inverter; no source read.')),
  },
  'dc-isolator': DC_ISOLATOR,
} as const satisfies Record<string, RowFigures>

/** One of the rows of the evidence. */
export type EvidenceRowKey = keyof typeof ROWS

/** The names of all rows, in order. */
export const EVIDENCE_ROWS = Object.keys(ROWS) as [EvidenceRowKey, ...EvidenceRowKey[]] // keys of ROWS
