import { type KeyPath, show } from '../../input/problems.ts'
import type { Level } from './elsewhere-words.ts'
import { inline } from './inline.ts'
import { isTable, type Rewrite } from './rewrite.ts'
import { writtenMonth } from './written-month.ts'

/** The value that a key takes instead of the one written; undefined: the form is none of those answered here. */
type Mended = (written: unknown) => unknown

const FILE = /\.(csv|epw|txt)$/i
const CURRENCIES: Readonly<Record<string, string>> = { '€': 'EUR', euro: 'EUR', euros: 'EUR', '£': 'GBP', pound: 'GBP' }
const CLIMATES: readonly string[] = ['cloudy', 'temperate', 'sunny', 'dry']

const aNumber = (written: unknown): written is number => typeof written === 'number'
const aWord = (written: unknown): written is string => typeof written === 'string'
const isFile = (written: unknown): written is string => aWord(written) && FILE.test(written)
const named: Mended = written => (aWord(written) ? { name: written } : undefined)
const listed: Mended = written => (isTable(written) ? [written] : undefined)

/**
 * Forms that people write for a key, by level and key, with the form that works. Ours, as `elsewhere-words.ts`; what is
 * missing here is answered by the schema.
 */
const FORMS: Readonly<Record<string, Mended>> = {
  'root.prices_from_evidence': written => (aNumber(written) ? { factor: written } : undefined),
  'root.currency': written => {
    if (!aWord(written) || /^[A-Z]{3}$/.test(written)) return undefined
    if (/^[a-z]{3}$/i.test(written)) return written.toUpperCase()
    return Object.hasOwn(CURRENCIES, written.toLowerCase()) ? CURRENCIES[written.toLowerCase()] : undefined
  },
  'root.start': written => writtenMonth(written) ?? undefined,
  'root.visit': written => (aNumber(written) ? { call_out: written } : undefined),
  'root.options': written => {
    if (!isTable(written)) return undefined
    if ('topology' in written || 'upfront_cost' in written) return [written]
    const quotes = Object.entries(written)
    return quotes.every(([, quote]) => isTable(quote))
      ? quotes.map(([name, quote]) => ({ name, ...(isTable(quote) ? quote : {}) }))
      : undefined
  },
  'site.generation': written => {
    if (aNumber(written)) return { annual_kwh: written }
    if (isFile(written)) return { hourly_csv: written }
    if (!Array.isArray(written)) return undefined
    if (written.length === 12 && written.every(aNumber)) return { monthly_kwh: written }
    return written.length > 0 && written.every(isTable) ? { arrays: written } : undefined
  },
  'site.location': written => {
    if (aNumber(written)) return { latitude: written }
    if (isFile(written)) return { hourly_csv: written }
    return aWord(written) && CLIMATES.includes(written) ? { climate: written } : undefined
  },
  'site.load': written => {
    if (aNumber(written)) return { annual_kwh: written }
    return isFile(written) ? { hourly_csv: written } : undefined
  },
  'site.energy_value': written =>
    aNumber(written) ? { import_price_per_kwh: written, export_price_per_kwh: 0 } : undefined,
  'site.panels': written => {
    const count = aWord(written) ? /^\s*(\d+)\s*(x|×|\*|panels|modules)/i.exec(written)?.[1] : undefined
    return count === undefined ? undefined : Number(count)
  },
  'generation.arrays': listed,
  'array.shade': written => {
    if (written === true || written === 'yes') return 'light'
    return written === false || written === 'no' ? 'none' : undefined
  },
  'array.tilt': written => (written === 'flat' ? 0 : undefined),
  'option.includes': written => (aWord(written) ? [written] : undefined),
  'option.components': written => (aWord(written) ? [{ kind: written }] : listed(written)),
  'option.monitoring': written => {
    if (written === true || written === 'yes') return 'built-in'
    return written === false || written === 'no' ? 'none' : undefined
  },
  'option.battery': written => {
    const kwh = aWord(written) ? /^\s*(\d+(?:\.\d+)?)\s*kwh\s*$/i.exec(written)?.[1] : written
    return aNumber(written) || aWord(kwh) ? { kwh: Number(kwh) } : undefined
  },
  'option.warranty_offers': listed,
  'option.warranty_provider': named,
  'option.labour_provider': named,
  'option.visit_policy': written => {
    if (written === false || written === 'no' || written === 'none') return 'each'
    return aNumber(written) ? { wait_for_units: written } : undefined
  },
  'option.design_losses': written =>
    aNumber(written) || (aWord(written) && /^[\d.]+\s*%$/.test(written)) ? { mismatch_and_shade: written } : undefined,
  'option.warranty': partsAndLabour,
  'component.warranty': partsAndLabour,
  'component.replacement': written => (aNumber(written) ? { parts: written } : undefined),
  'component.downtime': written => (aNumber(written) ? { respond_days: written } : undefined),
}

/** Comment after a suggested line whose value is only a guess. */
const REMARKS: Readonly<Record<string, string>> = {
  'array.shade': '   # none, light, moderate or heavy',
  'site.energy_value': '   # in place of 0: what is paid for a kWh sold',
  'option.monitoring': '   # built-in or none',
}

/**
 * Answers values in a form that their key does not take with a line that works, and continues with that form.
 *
 * @param rewrite - the scenario on its way
 * @param level - what the block is
 * @param path - where the block is
 */
export function answerForms(rewrite: Rewrite, level: Level, path: KeyPath): void {
  for (const [key, written] of Object.entries(rewrite.table(path) ?? {})) {
    const form = `${level}.${key}`
    const mended = Object.hasOwn(FORMS, form) ? FORMS[form]?.(written) : undefined
    if (mended === undefined || mended === written) continue
    const at = [...path, key]
    rewrite.flaws.push({
      path: at,
      message: `found ${show(written)}; write  ${key}: ${inline(mended)}${REMARKS[form] ?? ''}`,
    })
    rewrite.put(at, mended, at)
  }
}

/** '10 years parts, 2 years labour', '10 + 5'. */
function partsAndLabour(written: unknown): unknown {
  if (!aWord(written)) return undefined
  const years = [...written.matchAll(/(\d+(?:\.\d+)?)\s*(?:years?|yrs?)?\s*(?:of\s+)?(parts|product|labou?r)?/gi)]
  const labour = years.find(([, , what]) => /^lab/i.test(what ?? ''))?.[1]
  const parts = years.find(([, , what]) => !/^lab/i.test(what ?? ''))?.[1]
  if (parts === undefined || (labour === undefined && !/parts|product/i.test(written))) return undefined
  return labour === undefined ? { years: Number(parts) } : { years: Number(parts), labour_years: Number(labour) }
}
