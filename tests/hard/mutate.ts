import fc from 'fast-check'

/** Plain data of a structured file. */
export type Tree = null | boolean | number | string | readonly Tree[] | { readonly [key: string]: Tree }

/** One change of a tree: places are numbered, and `at` is taken modulo their number. */
export interface Edit {
  readonly at: number
  readonly with: (before: Tree | undefined) => Tree | undefined
  readonly told: string
}

/** Values that files have when somebody means harm, mistypes, or copies from a spreadsheet. */
const NASTY: readonly Tree[] = [
  ...[0, -0, 1, -1, 2, 0.5, 1e-9, 1e-300, 5e-324, 1e6, 1e9, 1e15, 1e300, 1.7e308, -1e300, 2 ** 53, 0.1 + 0.2, 99.999],
  ...[
    '',
    ' ',
    '12%',
    '0%',
    '100%',
    '-5%',
    '1e400%',
    'NaN',
    '.inf',
    '-.inf',
    'null',
    '=1+1',
    '@x',
    '2027-13',
    '٣',
    '1,5',
  ],
  ...[
    '<script>alert(1)</script>',
    '"><img src=x onerror=alert(1)>',
    '\'"`',
    '\u202egnp.exe',
    '👩‍👩‍👧 🏚',
    '\u0000',
    'é'.repeat(300),
  ],
  ...['__proto__', 'constructor', '../../../../etc/passwd', '/dev/zero', '/dev/stdin', '.', 'string', 'remaining'],
  ...[null, true, false, [], {}, [[]], [1, 2], { low: 1, high: 2 }, { low: 2, high: 1 }, { low: 0, high: 0 }],
  ...[
    { low: 0, high: 1e9 },
    { low: -1, high: 1 },
    { value: 3, low: 1, high: 2 },
    { low: 1e-9, high: 1e9, name: 'x' },
  ],
  ...[
    { median: 3, p90: 700 },
    { shape: 0.05, characteristic_life_years: 1 },
    { shape: 10_000, b10_years: 0.01 },
  ],
  ...[{ failed_by: { 1: '99%', 99: '99.9%' } }, { failed_by: { 0: 0.5 } }, { modes: [] }, { records: 'none.json' }],
  ...[
    { 5: '10%', 15: '60%' },
    { repair: { renews: 0, parts: 0, labour: 0 } },
    { chance: 1, affects: 1, life_times: 0.001 },
  ],
]

/** Keys that any block may be given, right there or not. */
const KEYS: readonly (readonly [string, Tree])[] = [
  ['successor', { surcharge: 300, chance: { 0: 0, 5: '10%', 15: '100%' } }],
  ['restore', { repair: { renews: '60%', parts: 300, labour: 180, at_most: 2 } }],
  ['restore', { repair: { renews: 0, parts: 30, labour: 1 } }],
  ['replace_at_age_years', 0.01],
  ['replace_at_age_years', 0.25],
  ['replace_at_age_years', 12],
  ['failure', { shape: 0.05, characteristic_life_years: { low: 0.01, high: 100 } }],
  ['failure', { shape: 10_000, characteristic_life_years: 7 }],
  ['failure', { shape: 1, mean_life_years: 0.02 }],
  ['failure', { failed_by: { 10: '12%', 15: '35%' }, bad_batch: { chance: '50%', affects: '100%', life_times: 0.01 } }],
  [
    'failure',
    {
      modes: [
        { cause: 'fan', susceptible: '2%', shape: 3, b10_years: 4 },
        { cause: 'rest', failed_by: { 9: '3%' }, shape: 2 },
      ],
    },
  ],
  ['failure', { shape: 2, b10_years: 5, model_spread: 5, none_failed_so_far: true }],
  ['age_years', 30],
  ['count', 37],
  ['model', 'm1'],
  ['share', '40%'],
  ['needs_visit', false],
  ['on_roof', true],
  ['downtime', { detect_days: 3650, respond_days: { median: 1, p90: 36_500 }, repair_days: 3650, claim_days: 3650 }],
  ['downtime', { detect_days: 0, respond_days: 0, repair_days: 0, claim_days: 0 }],
  ['warranty', { years: 0, labour_years: 0 }],
  [
    'warranty',
    { years: 60, claim_success: 0, replacement_cover: 'renewed', replacement_min_years: 5, visits_covered: true },
  ],
  [
    'warranty_offers',
    [
      { years: 15, price: 0 },
      { years: 20, price: 1e6, taken: true },
    ],
  ],
  ['warranty_provider', { name: 'p', exit_rate_per_year: '99%' }],
  ['labour_provider', { name: 'p', exit_rate_per_year: 0 }],
  ['visit_policy', { wait_for_units: 3, wait_at_most_days: 0 }],
  ['visit_policy', { wait_for_units: 100_000 }],
  ['battery', { value_per_day: { low: 0.5, high: 2 }, without_sun: '20%', backup: true }],
  ['design_losses', { mismatch_and_shade: '95%' }],
  ['monitoring', 'none'],
  ['residual_value', 'straight-line'],
  ['reserve', { interest: '-10%', opening: 0, confidence: 0.999, inflation: '5%' }],
  ['reserve', { interest: '20%', opening: 1e6 }],
  ['tier_effect', 5],
  ['discount_rate', '-20%'],
  ['discount_rate', '50%'],
  ['horizon_years', 1],
  ['horizon_years', 60],
  ['start', '2027-12'],
  ['yearly_cost', { low: 1, high: 1000 }],
  ['includes', ['battery', '<b>']],
  ['visit', { call_out: 0, roof_access: 0 }],
  ['prices_from_evidence', { factor: 1e-6 }],
  ['annual_kwh', 0.001],
  ['includes_downtime', '99%'],
  ['degradation', '20%'],
  ['self_consumed', [0, 0, 0, 0, 0, 0, 1, 1, 1, 1, 1, 1]],
  ['export_price_per_kwh', 0],
  ['import_price_per_kwh', 0],
  ['title', '<script>alert(1)</script> \u202e👩‍👩‍👧'],
  ['name', '=HYPERLINK("x")'],
  ['takes_string_down', '100%'],
]

/** Any one change: a value, a factor on a number, a range around a number, a key too many, one gone, one twice. */
export const anyEdit: fc.Arbitrary<Edit> = fc.oneof(
  { weight: 4, arbitrary: edit(fc.constantFrom(...NASTY), 'put', value => () => value) },
  {
    weight: 5,
    arbitrary: edit(
      fc.constantFrom(0, 0.01, 0.1, 0.5, 2, 10, 100, 1e4, -1),
      'times',
      factor => before => (typeof before === 'number' ? before * factor : before),
    ),
  },
  {
    weight: 4,
    arbitrary: edit(
      fc.constantFrom(1.001, 1.5, 4, 100),
      'range',
      spread => before => (typeof before === 'number' ? { low: before / spread, high: before * spread } : before),
    ),
  },
  {
    weight: 8,
    arbitrary: edit(
      fc.constantFrom(...KEYS),
      'key',
      ([key, value]) =>
        before =>
          isBlock(before) ? { ...before, [key]: value } : before,
    ),
  },
  { weight: 2, arbitrary: edit(fc.constant('gone'), 'drop', () => () => undefined) },
  {
    weight: 1,
    arbitrary: edit(
      fc.constant('twice'),
      'twice',
      () => before => (Array.isArray(before) ? [...before, ...before] : before),
    ),
  },
)

function edit<T>(values: fc.Arbitrary<T>, told: string, make: (value: T) => Edit['with']): fc.Arbitrary<Edit> {
  return fc.tuple(fc.nat(100_000), values).map(([at, value]) => ({
    at,
    with: make(value),
    told: `${told} ${JSON.stringify(value)?.slice(0, 80)}`,
  }))
}

/** A tree with one change. */
export function edited(tree: Tree, change: Edit): Tree {
  const target = change.at % countOf(tree)
  let place = -1
  const visit = (node: Tree): Tree | undefined => {
    place += 1
    if (place === target) return change.with(node)
    if (Array.isArray(node)) return node.flatMap(item => visit(item) ?? [])
    if (!isBlock(node)) return node
    return Object.fromEntries(
      Object.entries(node).flatMap(([key, value]) => {
        const kept = visit(value)
        return kept === undefined ? [] : [[key, kept] as const]
      }),
    )
  }
  return visit(tree) ?? {}
}

function countOf(tree: Tree): number {
  if (Array.isArray(tree)) return tree.reduce<number>((sum, item) => sum + countOf(item), 1)
  return isBlock(tree) ? Object.values(tree).reduce<number>((sum, item) => sum + countOf(item), 1) : 1
}

function isBlock(tree: unknown): tree is { readonly [key: string]: Tree } {
  return typeof tree === 'object' && tree !== null && !Array.isArray(tree)
}

/** One slip in a text: a piece gone, doubled, or replaced by signs that mean something to a parser. */
export const anySlip = fc
  .tuple(
    fc.double({ min: 0, max: 1, noNaN: true }),
    fc.nat(40),
    fc.constantFrom(
      '',
      '\t',
      '\n',
      ':',
      '- ',
      '{',
      ']',
      '"',
      "'",
      '#',
      '&a',
      '*a',
      '!!js/function x',
      '|',
      '%',
      ',,',
      ';',
      '\r',
      '\ufeff',
      '\u0000',
      '9'.repeat(400),
      '---\n',
      '...',
      '<<: ',
      '\ud800',
      'ÿ',
    ),
    fc.boolean(),
  )
  .map(([where, length, piece, keep]) => (text: string) => {
    const at = Math.floor(where * text.length)
    const cut = text.slice(at, at + length)
    return text.slice(0, at) + piece + (keep ? cut + cut : '') + text.slice(at + length)
  })
