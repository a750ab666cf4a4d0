/** The bibliography: every source a built-in figure can point at. Kinds of pages are described, makers never named. */
export const SOURCES = {
  bucher2022:
    'Bucher, Wandel, Joss (2022), Life expectancy of PV inverters and optimizers in residential PV systems, WCPEC-8, 3DV.1.46 (summary read, not the tables)',
  afridi2023:
    'Afridi, Tatapudi, Flicker, Srinivasan, Tamizhmani (2023), Reliability of microinverters for photovoltaic systems, Energies 16(18) 6511 (abstract read)',
  sanchez2025:
    'Sanchez (2025), Inverter reliability in PV systems: state-space modeling and Bayesian analysis, MSc thesis, Michigan State University (abstract read)',
  jordan2022:
    'Jordan and co-authors (2022), Photovoltaic fleet degradation insights, Progress in Photovoltaics 30, 1166-1175 (abstract read)',
  taxCreditFleet:
    'national laboratory study of about 50,000 US systems of 2009-2012 with yearly self-reports (summary read)',
  consumerAbandoned: 'consumer advice page on systems left without maker or installer, Australia (read)',
  retailerTerms: 'retailer table of warranty terms of several makers, 2020 (read)',
  consumerTerms: 'consumer pages on warranty terms of panel-level electronics, 2024-2026 (read)',
  installerTerms: 'installer pages and an owner quoting a warranty text, on labour cover, US (read)',
  tradePrices: 'trade pages on inverter hardware prices for US homes, 2025 (read)',
  consumerPrices: 'consumer and service-firm pages on labour and call-out prices, US 2021-2025 (read)',
  consumerDetection: 'consumer pages on how long faults stay unnoticed (read), with our judgement of the days',
  oversizingRule: 'consumer and retailer pages on connection rules, Australia (read)',
  deline2011:
    'Deline, Marion, Granata, Gonzalez (2011), Performance and economic analysis of distributed power electronics in PV systems, NREL/TP-5200-50003; MacAlpine, Brandemuehl, Characterization of power optimizer potential, University of Colorado (abstracts read)',
  deline2012:
    'Deline, Meydbray, Donovan, Forrest (2012), Photovoltaic shading testbed for module-level power electronics, NREL/TP-5200-54876 (abstract read)',
  mikofski:
    'Mikofski, Holmgren, Newmiller, Kharait, Effects of satellite sampling on subhourly modeling errors, conference draft (table I read)',
  faiman2008:
    'Faiman (2008), Assessing the outdoor operating temperature of photovoltaic modules, Progress in Photovoltaics 16, 307-315 (recalled)',
  souka1966:
    'Souka, Safwat (1966), Optimum orientations for the double-exposure flat-plate collector, Solar Energy 10, 170-174; ASHRAE standard 93 (recalled)',
  duffieBeckman: 'Duffie, Beckman (2013), Solar engineering of thermal processes, 4th edition (recalled)',
  bucciarelli1979:
    'Bucciarelli (1979), Power loss in photovoltaic arrays due to mismatch in cell characteristics, Solar Energy 23, 277-288 (recalled), with our own calculation',
  optimiserTests: 'university test papers on the efficiency of optimisers (recalled, not seen)',
  taskThirteen: 'IEA PVPS Task 13 on how light differs from year to year (recalled, not seen)',
  euroRates2024: 'euro reference rates of the European Central Bank, means of 2024 (recalled, not looked up)',
  ownMonths:
    'our calculation: a plane tilted 25 degrees to the equator under a temperate climate, played with the models of the roof',
  practice: 'common practice of the trade; no single source',
  judgement: 'judgement of this project; no source carries this number',
  choice: 'choice of this program',
} as const

/** Short name of a source. */
export type SourceKey = keyof typeof SOURCES
