/**
 * Makes sites.csv: 5,000 invented homes with one string inverter each, six models, four makers. Run from the root:
 * `npx tsx examples/fleet/make-sites.ts > examples/fleet/sites.csv`. The same lines each time; a number behind it makes
 * so many homes.
 */
import { openStream, streamKey } from '../../src/numerics/random/streams.ts'

const SITES = Number(process.argv[2] ?? 5000)

/** What was put on roofs over the years: model, tier, rating, maker, first and last age in service, share of the homes. */
const MODELS = [
  { model: 'larch-3', tier: 'plain', acKw: 3, provider: 'northlight', from: 7.5, to: 12, share: 0.24, warranty: 5 },
  { model: 'larch-5', tier: 'plain', acKw: 5, provider: 'northlight', from: 4, to: 11, share: 0.22, warranty: 10 },
  { model: 'reed-4', tier: 'budget', acKw: 4, provider: 'quayside', from: 5.5, to: 8, share: 0.2, warranty: 5 },
  { model: 'reed-6', tier: 'budget', acKw: 6, provider: 'quayside', from: 2, to: 6.5, share: 0.1, warranty: 5 },
  { model: 'basalt-5', tier: 'robust', acKw: 5, provider: 'tern', from: 0, to: 7, share: 0.14, warranty: 12 },
  { model: 'heron-8', tier: 'plain', acKw: 8, provider: 'millrace', from: 0, to: 3, share: 0.1, warranty: 10 },
] as const

const stream = openStream(streamKey(20_270_301, 'invented homes'), 0)

/** Hours at full power in a year, about what roofs in a temperate place give. */
function yieldPerKw(): number {
  return 820 + 260 * (stream.coarse() + stream.coarse()) * 0.5
}

const lines = ['id,model,tier,ac_kw,provider,warranty_years,age_years,annual_kwh']
for (let home = 1; home <= SITES; home++) {
  let left = stream.coarse()
  const found = MODELS.find(({ share }) => (left -= share) <= 0) ?? MODELS[0]
  const age = found.from + (found.to - found.from) * stream.coarse()
  const panelsKw = found.acKw * (1 + 0.25 * stream.coarse())
  const annualKwh = Math.round((panelsKw * yieldPerKw()) / 10) * 10
  const id = `home-${String(home).padStart(4, '0')}`
  lines.push(
    [id, found.model, found.tier, found.acKw, found.provider, found.warranty, age.toFixed(1), annualKwh].join(','),
  )
}
process.stdout.write(`${lines.join('\n')}\n`)
