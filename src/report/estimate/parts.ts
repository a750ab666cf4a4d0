import type { Chapter, Finding } from '../content.ts'
import { asideSentence } from './put-aside.ts'
import { beforeSigning } from './sections/before-signing.ts'
import { cover } from './sections/cover.ts'
import { energyLost } from './sections/energy-lost.ts'
import { failuresAndVisits } from './sections/failures-and-visits.ts'
import { lifetimeCost } from './sections/lifetime-cost.ts'
import { replacementAgeFinding, untriedAges } from './sections/replacement-age.ts'
import { reserve } from './sections/reserve.ts'
import { caseInFigures, retailerPage } from './sections/retailer-page.ts'
import { roofMonths } from './sections/roof-months.ts'
import { roofPower } from './sections/roof-power.ts'
import { roofShade } from './sections/roof-shade.ts'
import { spread } from './sections/spread.ts'
import { waiting } from './sections/waiting.ts'
import { warrantyTerm } from './sections/warranty-term.ts'
import { whatWouldChange } from './sections/what-would-change.ts'
import { worstBill } from './sections/worst-bill.ts'
import { worthIt } from './sections/worth-it.ts'
import { yearByYear } from './sections/year-by-year.ts'
import { leaning } from './verdicts.ts'
import type { View } from './view.ts'

/** Whom the report is for. */
export type Audience = 'buyer' | 'retailer' | 'owner'

/** Every reader. */
export const AUDIENCES: readonly Audience[] = ['buyer', 'retailer', 'owner']

/** A finding, or null where the results hold nothing to find. */
type Section = (view: View) => Finding | null

/** Every section. Findings that a reader does not decide from are listed in this order. */
const ALL: readonly Section[] = [
  retailerPage,
  caseInFigures,
  lifetimeCost,
  worthIt,
  spread,
  failuresAndVisits,
  worstBill,
  reserve,
  yearByYear,
  energyLost,
  roofMonths,
  roofShade,
  roofPower,
  warrantyTerm,
  cover,
  replacementAgeFinding,
  waiting,
  whatWouldChange,
  beforeSigning,
]

/** What each reader decides from; to add a finding, put it into `ALL` and into the list of those who decide from it. */
const CHAPTERS: Readonly<
  Record<Audience, { readonly title: string; readonly lead: (view: View) => string[]; readonly findings: Section[] }>
> = {
  buyer: {
    title: 'For the buyer',
    lead: view => [buyerLead(view)],
    findings: [
      lifetimeCost,
      worthIt,
      failuresAndVisits,
      worstBill,
      reserveInShort,
      energyLost,
      roofShade,
      warrantyTerm,
      cover,
      whatWouldChange,
      beforeSigning,
    ],
  },
  retailer: {
    title: 'For the retailer',
    lead: view => [
      view.second === null
        ? 'There is one option only, so there is no dearer design to make a case for.'
        : 'The case for a dearer design and the case against it, without brand names.',
    ],
    findings: [
      retailerPage,
      caseInFigures,
      lifetimeCost,
      worthItInShort,
      spread,
      failuresAndVisits,
      energyLost,
      roofMonths,
      roofShade,
      roofPower,
      warrantyTerm,
      cover,
      whatWouldChange,
    ],
  },
  owner: {
    title: 'For the owner',
    lead: view => [ownerLead(view), ...(replacementAgeFinding(view) === null ? untriedAges(view) : [])],
    findings: [
      lifetimeCost,
      reserve,
      yearByYear,
      worstBill,
      replacementAgeFinding,
      waiting,
      failuresAndVisits,
      energyLost,
      cover,
      whatWouldChange,
    ],
  },
}

/** A report's findings: those that its reader decides from, and one sentence of each other one. */
export interface Parts {
  readonly chapter: Chapter
  /** With the reader whose report holds the finding in full. */
  readonly further: readonly { readonly reader: Audience; readonly sentence: string }[]
}

/**
 * What the report says to its reader. Each section is written once, whoever reads it.
 *
 * @param view - prepared results
 * @param audience - the reader
 */
export function partsOf(view: View, audience: Audience): Parts {
  const written = new Map<Section, Finding | null>()
  const finding = (section: Section): Finding | null => {
    const known = written.get(section)
    if (known !== undefined) return known
    const made = section(view)
    written.set(section, made)
    return made
  }
  const found = (sections: readonly Section[]): Finding[] => sections.map(finding).filter(one => one !== null)
  const ids = new Map(AUDIENCES.map(reader => [reader, found(CHAPTERS[reader].findings).map(({ id }) => id)]))
  const { title, lead, findings } = CHAPTERS[audience]
  return {
    chapter: { id: `for-the-${audience}`, title, lead: lead(view), findings: found(findings) },
    further: found(ALL)
      .filter(({ id }) => ids.get(audience)?.includes(id) !== true)
      .flatMap(({ id, sentence }) => {
        const reader = AUDIENCES.find(other => ids.get(other)?.includes(id) === true)
        return reader === undefined ? [] : [{ reader, sentence }]
      }),
  }
}

/** A household decides by the amounts, an owner also by the balance over the years. */
function reserveInShort(view: View): Finding {
  return { ...reserve(view), figures: [] }
}

/** Without the picture: the retailer's first finding shows the same one. */
function worthItInShort(view: View): Finding | null {
  const whole = worthIt(view)
  return whole === null ? null : { ...whole, figures: [] }
}

function buyerLead(view: View): string {
  const pair = view.second === null ? null : view.comparison(view.best, view.second)
  if (pair === null)
    return `What ${view.name(view.best)} costs, how much energy failures take, who pays, and what to ask.`
  return leaning(pair.verdict) === 'open'
    ? `Choose between ${view.name(view.best)} and ${view.name(pair.option === view.best.id ? pair.against : pair.option)} by their terms, not by their lifetime cost. The findings say what each brings.`
    : `On these figures ${view.name(view.best)} is the cheapest choice. The findings say what it costs, how often it needs a visit, and what would have to be different for another to be cheaper.`
}

function ownerLead(view: View): string {
  return `${asideSentence(view, view.best)} What follows says when bills fall due. The same figures are in reserve.csv and yearly.csv.`
}
