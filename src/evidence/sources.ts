/** A source: how to find it, and its weakest point as evidence for a home roof. */
export interface Source {
  readonly text: string
  readonly weakest: string
}

/** The bibliography: every source a built-in figure can point at. Kinds of pages are described, makers never named. */
export const SOURCES = {
  bucher2022: {
    text: 'Bucher, Wandel, Joss (2022), Life expectancy of PV inverters and optimizers in residential PV systems, WCPEC-8, 3DV.1.46 (summary read, not the tables)',
    weakest:
      'one country; old vintages from the early 1990s on; mostly 10 to 15 kVA, nearly two inverters a system; an online survey',
  },
  afridi2023: {
    text: 'Afridi, Tatapudi, Flicker, Srinivasan, Tamizhmani (2023), Reliability of microinverters for photovoltaic systems, Energies 16(18) 6511 (abstract read)',
    weakest: 'no failure among few units in a hot chamber; sees no surges, water or installation faults',
  },
  kato2011: {
    text: 'Kato, study of home systems with the national institute AIST and an owners’ association, Japan (press text of about 2011 read)',
    weakest: 'one country; one owners’ association; old vintages; press text only',
  },
  haeberlin2003: {
    text: 'Haeberlin, Renken (2003), reliability section on 55 monitored inverters, Switzerland, table 1, figures 1 and 2 (read)',
    weakest: 'few inverters of the 1990s, watched by a laboratory',
  },
  maintenanceTickets: {
    text: 'open maintenance records of 876 US plants built 2008-2019, 51,933 tickets, published by a national laboratory (our calculation)',
    weakest: 'mostly large plants with an operator on watch; tickets, not failures; one country',
  },
  firmSurvival: {
    text: 'US Bureau of Labor Statistics (12 January 2024), survival of establishments born in March 2013, with Furr, Kapoor (2018), Strategic Management Journal 39(1), 33-61 (read)',
    weakest: 'establishments of all trades in one country, not solar firms',
  },
  isolatorInspections: {
    text: 'Clean Energy Regulator, Australia, reports on inspections of random samples of new systems, 2015 and 2019 (read)',
    weakest: 'one country that asks for roof isolators; unsafe findings, not failures in service',
  },
  jordan2022: {
    text: 'Jordan and co-authors (2022), Photovoltaic fleet degradation insights, Progress in Photovoltaics 30, 1166-1175 (abstract read)',
    weakest: 'one country; mostly large plants',
  },
  retailerTerms: {
    text: 'retailer table of warranty terms of several makers, 2020 (read)',
    weakest: 'one retailer; terms of 2020',
  },
  consumerTerms: {
    text: 'consumer pages on warranty terms of panel-level electronics, 2024-2026 (read)',
    weakest: 'pages without data; terms differ by market',
  },
  installerTerms: {
    text: 'installer pages and an owner quoting a warranty text, on labour cover, US (read)',
    weakest: 'a few firms of one country',
  },
  tradePrices: {
    text: 'trade pages on inverter hardware prices for US homes, 2025 (read)',
    weakest: 'US prices of one year; pages without data',
  },
  consumerPrices: {
    text: 'consumer and service-firm pages on labour and call-out prices, US 2021-2025 (read)',
    weakest: 'US prices; a few firms',
  },
  consumerDetection: {
    text: 'consumer pages on how long faults stay unnoticed (read), with our judgement of the days',
    weakest: 'nobody has measured how long homes take to notice',
  },
  oversizingRule: {
    text: 'consumer and retailer pages on connection rules, Australia (read)',
    weakest: 'rules of one country; yours decide',
  },
  deline2011: {
    text: 'Deline, Marion, Granata, Gonzalez (2011), Performance and economic analysis of distributed power electronics in PV systems, NREL/TP-5200-50003; MacAlpine, Brandemuehl, Characterization of power optimizer potential, University of Colorado (abstracts read)',
    weakest: 'abstracts only; electronics and panels of about 2010',
  },
  deline2012: {
    text: 'Deline, Meydbray, Donovan, Forrest (2012), Photovoltaic shading testbed for module-level power electronics, NREL/TP-5200-54876 (abstract read)',
    weakest: 'one test roof; abstract only',
  },
  mikofski: {
    text: 'Mikofski, Holmgren, Newmiller, Kharait, Effects of satellite sampling on subhourly modeling errors, conference draft (table I read)',
    weakest: 'one array in one month',
  },
  faiman2008: {
    text: 'Faiman (2008), Assessing the outdoor operating temperature of photovoltaic modules, Progress in Photovoltaics 16, 307-315 (recalled)',
    weakest: 'one desert site, panels in the open',
  },
  souka1966: {
    text: 'Souka, Safwat (1966), Optimum orientations for the double-exposure flat-plate collector, Solar Energy 10, 170-174; ASHRAE standard 93 (recalled)',
    weakest: 'one coefficient for all glass',
  },
  duffieBeckman: {
    text: 'Duffie, Beckman (2013), Solar engineering of thermal processes, 4th edition (recalled)',
    weakest: 'a usual value; the ground before your roof may differ',
  },
  bucciarelli1979: {
    text: 'Bucciarelli (1979), Power loss in photovoltaic arrays due to mismatch in cell characteristics, Solar Energy 23, 277-288 (recalled), with our own calculation',
    weakest: 'scatter of panels taken as a round figure',
  },
  optimiserTests: {
    text: 'university test papers on the efficiency of optimisers (recalled, not seen)',
    weakest: 'a few models in laboratories',
  },
  taskThirteen: {
    text: 'IEA PVPS Task 13 on how light differs from year to year (recalled, not seen)',
    weakest: 'differs by climate',
  },
  euroRates2024: {
    text: 'euro reference rates of the European Central Bank, means of 2024 (recalled, not looked up)',
    weakest: 'one year; rates move',
  },
  ownMonths: {
    text: 'our calculation: a plane tilted 25 degrees to the equator under a temperate climate, played with the models of the roof',
    weakest: 'one tilt, no shade, one climate',
  },
  practice: { text: 'common practice of the trade; no single source', weakest: 'no source' },
  judgement: {
    text: 'judgement of this project; no source carries this number',
    weakest: 'nobody has measured it',
  },
  choice: { text: 'choice of this program', weakest: 'a choice, not a finding' },
} as const satisfies Record<string, Source>

/** Short name of a source. */
export type SourceKey = keyof typeof SOURCES
