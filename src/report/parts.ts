import type { Finding, Part } from './content.ts'
import { asideSentence } from './put-aside.ts'
import { beforeSigning } from './sections/before-signing.ts'
import { cover } from './sections/cover.ts'
import { energyLost } from './sections/energy-lost.ts'
import { failuresAndVisits } from './sections/failures-and-visits.ts'
import { lifetimeCost } from './sections/lifetime-cost.ts'
import { replacementAge, untriedAges } from './sections/replacement-age.ts'
import { reserve } from './sections/reserve.ts'
import { retailerPage } from './sections/retailer-page.ts'
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

/** A finding, or null where the results hold nothing to find. */
type Section = (view: View) => Finding | null

/** The three parts of the report by their reader; to add a section, put it into one of the lists. */
export const PARTS: Readonly<Record<'buyer' | 'retailer' | 'owner', (view: View) => Part>> = {
  buyer: view => ({
    id: 'for-the-buyer',
    title: 'For the buyer',
    lead: [buyerLead(view)],
    findings: found(view, [
      lifetimeCost,
      worthIt,
      spread,
      failuresAndVisits,
      worstBill,
      energyLost,
      roofMonths,
      roofShade,
      roofPower,
      warrantyTerm,
      cover,
      whatWouldChange,
      beforeSigning,
    ]),
  }),
  retailer: view => ({
    id: 'for-the-retailer',
    title: 'For the retailer',
    lead: [
      view.second === null
        ? 'There is one option only, so there is no dearer design to make a case for.'
        : 'One page to put on the table, without the name of a maker. It says when the dearer design earns its price and, as plainly, when it does not.',
    ],
    findings: found(view, [retailerPage]),
  }),
  owner: view => ({
    id: 'for-the-owner',
    title: 'For the owner',
    lead: [ownerLead(view), ...(replacementAge(view) === null ? untriedAges(view) : [])],
    findings: found(view, [reserve, yearByYear, replacementAge, waiting]),
  }),
}

function found(view: View, sections: readonly Section[]): Finding[] {
  return sections.map(section => section(view)).filter(finding => finding !== null)
}

function buyerLead(view: View): string {
  const pair = view.second === null ? null : view.comparison(view.best, view.second)
  if (pair === null) return `What ${view.name(view.best)} costs, how often it stands still, who pays, and what to ask.`
  return leaning(pair.verdict) === 'open'
    ? `Choose between ${view.name(view.best)} and ${view.name(pair.option === view.best.id ? pair.against : pair.option)} by their terms, not by their lifetime cost. The findings say what each brings.`
    : `On these figures ${view.name(view.best)} is the choice. The findings say what it costs, what it will ask of you, and what would have to be different for another to win.`
}

function ownerLead(view: View): string {
  return `${asideSentence(view, view.best)} What follows says when they fall due. The same figures stand in reserve.csv and yearly.csv.`
}
