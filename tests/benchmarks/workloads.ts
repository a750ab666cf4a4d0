/** The workloads of the benchmark: scenarios as a user would write them, without ± so that every draw is one set. */

/** A block of a scenario file. */
export type Block = { readonly [key: string]: unknown }

const SHARES = [0.03, 0.05, 0.08, 0.11, 0.13, 0.13, 0.13, 0.12, 0.09, 0.07, 0.035, 0.025]

/** Shape and characteristic life, years. */
export type Life = readonly [shape: number, lifeYears: number]

/** Names of the populations. */
export type PopulationName = 'std' | 'prem' | 'opt' | 'pan' | 'op6'

/** One population of the workloads, in plain numbers. */
export interface Population {
  readonly count: number
  /** A unit fails at the earliest of them. */
  readonly modes: readonly Life[]
  readonly parts: number
  readonly labour: number
  readonly warrantyYears: number
  readonly share: number
  /** Median days, and sigma of the logarithm. */
  readonly detect: readonly [median: number, sigma: number]
  readonly respond: readonly [median: number, sigma: number]
}

const CENTRAL_DELAYS = { detect: [3, 0.7], respond: [12, 0.6] } as const
const UNIT_DELAYS = { detect: [30, 0.9], respond: [20, 0.6] } as const

/** The populations of the workloads; `scale` multiplies the units behind one central inverter and its price. */
export function populations(units: number, central: number): Record<PopulationName, Population> {
  return {
    std: {
      count: 1,
      modes: [[2.2, 14]],
      parts: 1500 * central,
      labour: 250,
      warrantyYears: 10,
      share: 1,
      ...CENTRAL_DELAYS,
    },
    prem: {
      count: 1,
      modes: [[2.5, 22]],
      parts: 2400 * central,
      labour: 250,
      warrantyYears: 20,
      share: 1,
      ...CENTRAL_DELAYS,
    },
    opt: {
      count: units,
      modes: [[1.2, 120]],
      parts: 70,
      labour: 180,
      warrantyYears: 15,
      share: 1 / units,
      ...UNIT_DELAYS,
    },
    pan: {
      count: units,
      modes: [
        [0.7, 400],
        [3.5, 38],
      ],
      parts: 160,
      labour: 180,
      warrantyYears: 15,
      share: 1 / units,
      ...UNIT_DELAYS,
    },
    op6: {
      count: Math.round(0.3 * units),
      modes: [[1.2, 120]],
      parts: 70,
      labour: 180,
      warrantyYears: 15,
      share: 1 / units,
      ...UNIT_DELAYS,
    },
  }
}

/** The five options of the household: an inverter, a dearer one, with optimisers, panel-level, optimisers on some. */
export const OPTIONS = [['std'], ['prem'], ['std', 'opt'], ['pan'], ['std', 'op6']] as const

/** The two options of the roof with 400 units: an inverter with optimisers, panel-level units. */
export const LARGE_OPTIONS = [['std', 'opt'], ['pan']] as const

/** A house with 20 units. */
export const HOUSEHOLD = { units: 20, central: 1, energyFactor: 1 }
/** A commercial roof: 400 units, twenty times the energy. */
export const COMMERCIAL = { units: 400, central: 10, energyFactor: 20 }

/** Yearly energy, tariff and rates of all workloads. */
export const SITE = {
  annualKwh: 9000,
  shares: SHARES,
  tariff: 0.25,
  tariffGrowth: 0.01,
  degradation: 0.005,
  discount: 0.04,
  partsGrowth: -0.02,
  labourGrowth: 0.02,
  horizonYears: 25,
}

/**
 * A workload as a scenario.
 *
 * @param size - HOUSEHOLD or COMMERCIAL
 * @param optionNames - populations of each option
 */
export function scenarioOf(
  size: typeof HOUSEHOLD,
  optionNames: readonly (readonly PopulationName[])[] = OPTIONS,
): Block {
  const all = populations(size.units, size.central)
  const options = optionNames.map((names, i) => {
    const [first] = names
    const second = names[1]
    const topology =
      first === 'pan'
        ? 'panel-level'
        : second === 'opt'
          ? 'string-optimisers'
          : second === 'op6'
            ? 'string-some-optimisers'
            : 'string'
    return option(
      `Option ${i + 1}`,
      topology,
      names.map(name =>
        component(
          first === 'pan' ? 'panel-level-unit' : name === 'std' || name === 'prem' ? 'string-inverter' : 'optimiser',
          all[name],
        ),
      ),
    )
  })
  return world(options, size.units, size.energyFactor)
}

/**
 * A scenario with one option that holds one population.
 *
 * @param name - which population
 * @param units - of the option
 */
export function single(name: 'std' | 'pan' | 'opt', units: number): Block {
  const all = populations(units, 1)
  const components = [
    component(name === 'std' ? 'string-inverter' : name === 'pan' ? 'panel-level-unit' : 'optimiser', all[name]),
  ]
  // optimisers need an inverter: one that never fails
  if (name === 'opt') components.unshift(component('string-inverter', { ...all.std, modes: [[5, 5000]] }))
  const topology = name === 'std' ? 'string' : name === 'pan' ? 'panel-level' : 'string-optimisers'
  return world([option('Only', topology, components)], units, 1)
}

function component(kind: string, population: Population): Block {
  const days = ([median, sigma]: readonly [number, number]): Block => ({
    median,
    p90: median * Math.exp(1.2815515655446 * sigma),
  })
  const modes = population.modes.map(([shape, lifeYears], i) => ({
    cause: `mode ${i + 1}`,
    susceptible: 1,
    shape,
    characteristic_life_years: lifeYears,
  }))
  const [only] = modes
  return {
    kind,
    count: population.count,
    failure: {
      ...(modes.length === 1 && only !== undefined
        ? { shape: only.shape, characteristic_life_years: only.characteristic_life_years }
        : { modes }),
      model_spread: 0,
      bad_batch: { chance: 0 },
    },
    downtime: {
      detect_days: days(population.detect),
      detect_days_unmonitored: 400,
      respond_days: days(population.respond),
      repair_days: 0,
      claim_days: 0,
    },
    replacement: {
      parts: population.parts,
      labour: population.labour,
      labour_each_further: population.labour,
      parts_growth: SITE.partsGrowth,
    },
    warranty: {
      years: population.warrantyYears,
      labour_years: 0,
      parts: 1,
      labour: 0,
      claim_success: 1,
      replacement_cover: 'remaining',
      visits_covered: false,
    },
    on_roof: false,
    ...(kind === 'optimiser' ? { takes_string_down: 0 } : {}),
  }
}

function option(name: string, topology: string, components: readonly Block[]): Block {
  const stays = { exit_rate_per_year: 0 }
  return {
    name,
    topology,
    upfront_cost: 6000,
    monitoring: 'built-in',
    // as the peers: every failure has a visit of its own
    visit_policy: 'each',
    components,
    warranty_provider: stays,
    labour_provider: stays,
  }
}

function world(options: readonly Block[], panels: number, energyFactor: number): Block {
  return {
    title: 'Workload',
    horizon_years: SITE.horizonYears,
    start: '2027-01',
    discount_rate: SITE.discount,
    site: {
      panels,
      generation: {
        monthly_kwh: SITE.shares.map(share => share * SITE.annualKwh * energyFactor),
        degradation: SITE.degradation,
      },
      energy_value: {
        import_price_per_kwh: SITE.tariff,
        export_price_per_kwh: SITE.tariff,
        self_consumed: 0.3,
        price_growth: SITE.tariffGrowth,
        export_price_growth: SITE.tariffGrowth,
      },
    },
    visit: { call_out: 0, roof_access: 0, labour_growth: SITE.labourGrowth },
    options,
  }
}

/** Cover as evidence has it, in single figures, so that every draw stays one set. */
const DEFAULT_COVER = { labour_years: 2, parts: 1, labour: 1, claim_success: 0.9, replacement_cover: 'new-if-bought' }

/**
 * A workload under other rules: cover as most have it (claims refused, exits of providers, days of claims, a new term for
 * what was bought), or units that wait for a visit.
 *
 * @param world - from `scenarioOf`
 * @param what - which
 */
export function under(world: Block, what: 'default cover' | 'waiting'): Block {
  const options = (world.options as readonly Block[]).map(option =>
    what === 'waiting'
      ? { ...option, visit_policy: { wait_for_units: 2, wait_at_most_days: 365 } }
      : {
          ...option,
          warranty_provider: { name: 'maker', exit_rate_per_year: 0.02 },
          labour_provider: { name: 'installer', exit_rate_per_year: 0.06 },
          components: (option.components as readonly Block[]).map(component => ({
            ...component,
            warranty: { ...(component.warranty as Block), ...DEFAULT_COVER },
            downtime: { ...(component.downtime as Block), claim_days: 10 },
          })),
        },
  )
  return { ...world, options }
}
