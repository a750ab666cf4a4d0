/** A valid scenario; tests change one thing in it. */
export const PLAIN = `title: Plain
site:
  panels: 20
  generation: {monthly_kwh: [250, 360, 550, 690, 780, 790, 800, 730, 580, 420, 280, 210]}
  energy_value: {import_price_per_kwh: 0.3, export_price_per_kwh: 0.08}
visit: {call_out: 140, roof_access: 60}
options:
  - name: String
    topology: string
    upfront_cost: 6900
    components:
      - kind: string-inverter
        ac_kw: 5
        replacement: {parts: 900, labour: 260}
        warranty: {years: 10, labour_years: 2}
  - name: Panel
    topology: panel-level
    upfront_cost: 9400
    components:
      - kind: panel-level-unit
        count: 20
        ac_kw: 0.29
        replacement: {parts: 150, labour: 90}
`

/** The plain scenario with one piece of text in place of another; the piece must be there. */
export function changed(from: string, to: string): string {
  if (!PLAIN.includes(from)) throw new Error(`the plain scenario does not hold: ${from}`)
  return PLAIN.replace(from, to)
}
