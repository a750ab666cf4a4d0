import type { OptionTerms, UnitTerms } from '../terms.ts'

/** By population: units that are down at the present moment. */
export type DownCounts = Int32Array

/** What is down at one moment, as shares from 0 to 1 (O4, O5, O7). Reused. */
export class DownShare {
  /** Of the option's generation: 1 − central availability × mean panel-level availability. */
  generation = 0
  /** Of the battery's value; 0 without battery. */
  battery = 0
  /** Of its backup; 0 where none is promised. */
  backup = 0

  #units: readonly UnitTerms[] = []
  #battery: OptionTerms['battery'] = null
  /** Whether the solar inverters are central; else they are panel-level units. Optimisers are not inverters. */
  #central = false

  /**
   * Loads an option.
   *
   * @param terms - of the option
   */
  begin({ units, battery }: OptionTerms): void {
    this.#units = units
    this.#battery = battery
    this.#central = units.some(unit => unit.role === 'inverter')
  }

  /**
   * Computes the shares.
   *
   * @param down - units down by population
   * @param panelShare - share of the panels that is down, where the option has strings; NaN: computed from the units
   */
  find(down: DownCounts, panelShare = Number.NaN): void {
    const units = this.#units
    let inverters = 0
    let panels = 0
    let batteries = 0
    let batteryInverters = 0
    for (let place = 0; place < units.length; place++) {
      const count = down[place] ?? 0
      const unit = units[place]
      if (count === 0 || unit === undefined) continue
      const share = unit.unitShare * count
      if (unit.role === 'inverter') inverters += share
      else if (unit.role === 'panel-level') panels += share
      else if (unit.role === 'battery') batteries += share
      else if (unit.role === 'battery-inverter') batteryInverters += share
    }
    inverters = Math.min(inverters, 1)
    panels = Number.isNaN(panelShare) ? Math.min(panels, 1) : panelShare
    this.generation = Math.min(1, 1 - (1 - inverters) * (1 - panels))
    const battery = this.#battery
    this.battery = 0
    this.backup = 0
    if (battery === null) return
    const sunDown = 1 - (1 - inverters) * (1 - (this.#central ? 0 : panels))
    const works = (1 - Math.min(batteries, 1)) * (1 - Math.min(batteryInverters, 1))
    this.battery = 1 - works * (1 - battery.lostWithoutSun * sunDown)
    if (battery.backup) this.backup = 1 - works * (battery.backupNeedsInverter ? 1 - sunDown : 1)
  }
}
