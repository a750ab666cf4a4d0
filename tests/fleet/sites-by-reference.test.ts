import { expect, test } from 'vitest'
import { ClassPlay } from '../../src/fleet/play/class-play.ts'
import { FleetChance } from '../../src/fleet/play/fleet-chance.ts'
import { FleetSets } from '../../src/fleet/play/fleet-sets.ts'
import { hundredths } from '../../src/fleet/play/hundredths.ts'
import { isRead, SiteReader } from '../../src/fleet/sites/site-reader.ts'
import { streamKey } from '../../src/numerics/random/streams.ts'
import { playReference } from '../reference-player/history.ts'
import { priceReference } from '../reference-player/ledger.ts'
import { exitsIn } from '../worlds.ts'
import { homeTemplate, opened, playedChunk, siteTable, writeFleet } from './fleets.ts'

const TEMPLATES: readonly [string, string][] = [
  ['evidence, new-if-bought', homeTemplate()],
  [
    'renewed cover that pays in part and covers visits, yearly cost, money at the start',
    homeTemplate({
      option: 'yearly_cost: 17.35',
      head: 'reserve: {opening: 3000, interest: 2%, confidence: 80%, inflation: 2%}',
    }).replace(
      'labour_years: 2',
      'labour_years: 5, labour: 70%, parts: 80%, replacement_cover: renewed, visits_covered: true',
    ),
  ],
  [
    'remaining cover, surcharge, early deaths, bad batch, roof access, nobody watches',
    homeTemplate({
      component: `successor: {surcharge: 210, chance: {2: 40%, 12: 90%}}
        on_roof: true
        failure: {shape: 0.8, characteristic_life_years: 1.5, bad_batch: {chance: 60%, affects: 50%, life_times: 0.3}}`,
      option: 'monitoring: none',
    }).replace('labour_years: 2', 'labour_years: 2, replacement_cover: remaining, replacement_min_years: 2'),
  ],
  ['survivors counted', homeTemplate({ component: 'failure: {none_failed_so_far: true}' })],
]

const DRAWS = 20
const SITES = 30

test.each(TEMPLATES)(
  'F2, F4: every year of every draw of a fleet is the sum of its sites by the reference: %s',
  async (_, template) => {
    const path = writeFleet(template, siteTable(SITES))
    const { sums } = await playedChunk(path, DRAWS)
    const { census, tickets } = await opened(path, DRAWS)
    const { frame } = census
    const sets = new FleetSets(frame.seed, DRAWS)
    const oldest = new Map(frame.models.map(model => [model.name, model.oldestAgeYears]))
    const workshop = {
      seed: frame.seed,
      sets,
      chance: new FleetChance(frame.seed, sets, frame.models),
      oldestAge: (model: string) => oldest.get(model) ?? 0,
      lives: new Map(),
    }
    const reader = new SiteReader(frame.form)
    const cash = new Float64Array(DRAWS * frame.horizonYears)
    let failures = 0
    let lostWh = 0
    for (const ticket of tickets) {
      const site = reader.read(ticket)
      if (!isRead(site)) continue
      const play = new ClassPlay(site.siteClass, workshop)
      play.sets.forEach((set, draw) => {
        const units = set.parameters.units.map((unit, place) => ({
          ...unit,
          ageYears: site.ages[place] ?? 0,
          key: streamKey(frame.seed, JSON.stringify(['site', ticket.id, 'component', place])),
        }))
        const struck = play.modelDraws.map(fate => fate?.struck[draw] === 1)
        const played = playReference({ ...set.parameters, units }, draw, struck)
        const terms = {
          ...set.terms,
          units: set.terms.units.map((unit, place) => ({ ...unit, ageYears: site.ages[place] ?? 0 })),
        }
        const account = priceReference(played, terms, play.plan.supply, {
          partsExits: exitsIn(play.partsExits, draw),
          labourExits: exitsIn(play.labourExits, draw),
          endOfProduction: play.modelDraws.map(fate => fate?.endOfProduction[draw] ?? Infinity),
        })
        failures += played.filter(({ planned }) => !planned).length
        lostWh += account.lostKwh * site.energyFactor * 1000
        account.cash.forEach((paid, year) => {
          const at = draw * frame.horizonYears + year
          cash[at] = (cash[at] ?? 0) + hundredths(paid + set.terms.yearlyCost)
        })
      })
    }
    expect(failures).toBeGreaterThan(50)
    expect(sums.failures.reduce((sum, n) => sum + n, 0)).toBe(failures)
    // an amount halfway between two hundredths may be rounded either way
    cash.forEach((cents, at) => {
      expect(Math.abs((sums.cash[at] ?? 0) - cents)).toBeLessThanOrEqual(1)
    })
    const lost = sums.lostWh.reduce((sum, wh) => sum + wh, 0)
    expect(Math.abs(lost - lostWh)).toBeLessThan(SITES * DRAWS)
  },
)
