import { describe, test } from 'vitest'
import { History } from '../../src/history/history.ts'
import { Accounts } from '../../src/ledger/accounts.ts'
import { Claims, decideClaims } from '../../src/ledger/claims.ts'
import { payRepairs } from '../../src/ledger/repairs.ts'
import type { OptionTerms, UnitTerms } from '../../src/ledger/terms.ts'
import { CompoundFactor } from '../../src/numerics/compound-factor.ts'
import { expectClose } from '../numerics/relative.ts'
import reference from '../reference/discounting.json' with { type: 'json' }

/** Payments of one kind: how much at prices of the start, how its price grows, and when it is due. */
interface Payments {
  readonly amount: number
  readonly growth: number
  readonly years: readonly number[]
}

function unitOf({ amount, growth }: Payments): UnitTerms {
  const cover = {
    years: 0,
    labourYears: 0,
    partsShare: 1,
    labourShare: 1,
    claimSuccess: 1,
    replacementCover: 'remaining',
    replacementMinYears: 0,
    visitsCovered: false,
  } as const
  return {
    ageYears: 0,
    count: 1,
    role: 'nothing',
    unitShare: 0,
    parts: amount,
    labour: 0,
    labourEachFurther: 0,
    partsGrowth: new CompoundFactor(Math.log1p(growth)),
    repair: null,
    surcharge: 0,
    model: 0,
    onRoof: false,
    needsVisit: false,
    claimYears: 0,
    cover,
    modes: [],
  }
}

/** Present value that the ledger enters for parts paid at given moments, each kind a population that fails then. */
function presentValue(rate: number, horizonYears: number, kinds: readonly Payments[]): number {
  const terms: OptionTerms = {
    horizonYears,
    discount: new CompoundFactor(-Math.log1p(rate)),
    upfrontCost: 0,
    warrantyPrice: 0,
    yearlyCost: 0,
    callOut: 0,
    roofAccess: 0,
    labourGrowth: new CompoundFactor(0),
    units: kinds.map(unitOf),
    stringShares: new Float64Array(0),
    energy: {
      importPrice: 0,
      exportPrice: 0,
      importGrowth: new CompoundFactor(0),
      exportGrowth: new CompoundFactor(0),
      selfConsumed: new Float64Array(12),
    },
    battery: null,
    later: [],
  }
  const history = new History()
  history.begin(1, kinds.length, 1)
  for (const [place, kind] of kinds.entries()) {
    const rows = history.rows[place]
    for (const at of kind.years) {
      const row = rows?.append(0, -1, at, 0) ?? 0
      rows?.detectedAt.fill(at, row, row + 1)
      rows?.returnedAt.fill(at, row, row + 1)
    }
  }
  const claims = kinds.map(() => new Claims())
  decideClaims(history, terms, claims)
  const accounts = new Accounts(horizonYears)
  payRepairs(history, terms, claims, accounts, null)
  return accounts.parts[0] ?? 0
}

const yearEnds = (n: number) => Array.from({ length: n }, (_, year) => year + 1)

describe('C2, C4: what the ledger pays later is worth what the factors say (COMPUTED: 40 digits; names as in ASTM E917)', () => {
  test.each(reference.factors)('$rate a year, $years years', row => {
    const { rate, years } = row
    const worth = (kind: Partial<Payments>) =>
      presentValue(rate, years, [{ amount: 1, growth: 0, years: [years], ...kind }])
    expectClose(worth({}), row.single_present_value, 1e-12)
    expectClose(worth({ years: yearEnds(years) }), row.uniform_present_value, 1e-12)
    expectClose(worth({ years: yearEnds(years).map(y => y - 0.5) }), row.uniform_present_value_mid_year, 1e-12)
    for (const [growth, factor] of Object.entries(row.modified_single_present_value)) {
      expectClose(worth({ growth: Number(growth) }), factor, 1e-12)
    }
    for (const [growth, factor] of Object.entries(row.modified_uniform_present_value)) {
      expectClose(worth({ growth: Number(growth), years: yearEnds(years) }), factor, 1e-12)
    }
  })

  test.each(reference.life_cycle_cost)('a whole life of $years years at $rate', row => {
    const upkeep = { amount: row.annual_om_year0_prices, growth: row.om_escalation, years: yearEnds(row.years) }
    const replaced = {
      amount: row.replacement_year0_prices,
      growth: row.replacement_escalation,
      years: row.replacement_years,
    }
    const residual = row.residual_at_end_nominal * (1 + row.rate) ** -row.years
    const later = presentValue(row.rate, row.years, [upkeep, replaced])
    expectClose(row.capital + later - residual, row.present_value, 1e-12)
  })

  test('factors read in printed tables (READ: public compound-interest tables; recalled: NIST Handbook 135, 3 %)', () => {
    const annuity = (rate: number, n: number) => presentValue(rate, n, [{ amount: 1, growth: 0, years: yearEnds(n) }])
    expectClose(annuity(0.06, 10), 7.3601, 1e-5)
    expectClose(annuity(0.1, 25), 9.07704, 1e-6)
    expectClose(annuity(0.12, 22), 7.64465, 1e-6)
    expectClose(annuity(0.03, 25), 17.41, 5e-4)
  })
})
