import {
  atmosphereSource,
  boilingPointAt,
  boilingSource,
  kPaPerPsi,
  pressureAt,
  steamTemperature,
  toCelsius,
} from '../../core/process/atmosphere.ts'
import { gelPoint, gelSource, printedJellyPoints, printedJellyPointsSource } from '../../core/process/gel.ts'
import { boilBeforeTasting, sterilisingBoil } from '../../core/process/heating.ts'
import { processTable } from '../../core/process/index.ts'
import type { CoopWays } from '../../web/asking.ts'
import { textField } from '../../web/fields.ts'
import type { TypedForm } from '../../web/forms.ts'
import { minutesText } from '../processes/index.ts'
import { processesPath } from '../processes/paths.ts'
import { altitudeText, kPaText, temperatureText } from './figures.ts'
import { line, plainTable, section, sourcedTable, topicPage } from './parts.ts'
import { altitudePath } from './paths.ts'

/** What air, water and steam do at an altitude in metres; null: what was typed is none, and the co-op's own is shown. */
export function altitudePage(form: TypedForm, coop: CoopWays, askedM: number | null) {
  const metres = askedM ?? coop.altitudeM
  const where = metres === coop.altitudeM ? 'here' : `at ${altitudeText(metres, coop)}`
  return topicPage({
    title: 'Altitude, boiling water and steam',
    sentence: `Water boils at ${temperatureText(boilingPointAt(metres), coop)} ${where}.`,
    ask: {
      action: altitudePath(),
      button: 'Show it',
      form,
      fields: {
        altitude: textField(form, {
          name: 'altitude',
          label: 'At which altitude',
          hint: `In metres or feet; this kitchen lies at ${altitudeText(coop.altitudeM, coop)}`,
          enterkeyhint: 'search',
        }),
      },
    },
    sections: [
      section({
        id: 'at',
        heading: `At ${altitudeText(metres, coop)}`,
        tables: [atTable(metres, coop)],
        lines: [
          line(
            'Weather moves the air pressure, and the boiling point with it by about a degree. A thermometer held in boiling water that day knows better than this table.',
            atmosphereSource,
          ),
        ],
        caution:
          'Cooler boiling water and thinner air are why the published tables ask for more minutes or more pressure higher up. Nothing on this page gives a time for a jar: look that up in the tables.',
      }),
      section({ id: 'by-altitude', heading: 'By altitude', tables: [byAltitude(metres, coop)] }),
      section({
        id: 'steam',
        heading: 'Steam in a pressure canner',
        says: [
          'The gauge shows pressure above the air around it. Where the air is thinner, the same reading means cooler steam. It holds only when the air has been driven out of the canner first.',
        ],
        tables: [steamTable(metres, coop)],
      }),
      section({ id: 'printed', heading: 'Jelly points as printed', tables: [printedTable(coop)] }),
    ],
    links: [{ href: processesPath(), text: 'Look up minutes and pressure for a jar' }],
  })
}

function atTable(metres: number, coop: CoopWays) {
  const empty = sterilisingBoil(metres)
  const doubtful = boilBeforeTasting(metres)
  return sourcedTable(
    'What to reckon with',
    ['What', '#Figure', 'What it means'],
    [
      {
        name: 'Air pressure',
        cells: [kPaText(pressureAt(metres), coop), 'the mean over the year'],
        source: atmosphereSource,
      },
      {
        name: 'Water boils',
        cells: [temperatureText(boilingPointAt(metres), coop), 'in an open pot'],
        source: boilingSource,
      },
      {
        name: 'Jelly is done',
        cells: [temperatureText(gelPoint('jelly', { altitudeM: metres }).celsius, coop), 'without added pectin'],
        source: gelSource,
      },
      {
        name: 'Jam is done',
        cells: [
          temperatureText(gelPoint('jam', { altitudeM: metres }).celsius, coop),
          'without added pectin; preserves and marmalade too',
        ],
        source: gelSource,
      },
      {
        name: 'Empty jars',
        cells: [minutesText(empty.minutes), `${empty.says} Only where the tables say so.`],
        source: empty.source,
      },
      { name: 'Food in doubt', cells: [minutesText(doubtful.minutes), doubtful.says], source: doubtful.source },
    ],
  )
}

function byAltitude(metres: number, coop: CoopWays) {
  const steps = coop.units === 'metric' ? metricSteps : usSteps
  const all = [...new Set([...steps, metres])].sort((a, b) => a - b)
  return plainTable(
    'Air, water and jelly by altitude',
    ['Altitude', '#Air pressure', '#Water boils', '#Jelly is done', '#Empty jars'],
    all.map((at) => ({
      name: altitudeText(at, coop),
      here: at === metres,
      cells: [
        kPaText(pressureAt(at), coop),
        temperatureText(boilingPointAt(at), coop),
        temperatureText(gelPoint('jelly', { altitudeM: at }).celsius, coop),
        minutesText(sterilisingBoil(at).minutes),
      ],
    })),
    [atmosphereSource, boilingSource, gelSource, sterilisingBoil(metres).source],
  )
}

function steamTable(metres: number, coop: CoopWays) {
  return plainTable(
    'Steam temperature at the gauge pressures of the tables',
    ['Gauge', '#At the sea', '#At this altitude'],
    gaugePressures().map((psi) => ({
      name: `${psi} psi (${Math.round(psi * kPaPerPsi)} kPa)`,
      cells: [
        temperatureText(steamTemperature({ psi }, 0), coop),
        temperatureText(steamTemperature({ psi }, metres), coop),
      ],
    })),
    [atmosphereSource, boilingSource],
  )
}

/** Every pressure that some row of the published tables names. */
export function gaugePressures(): number[] {
  const named = processTable().flatMap(({ bands }) => bands.flatMap(({ psi }) => (psi === null ? [] : [psi])))
  return [...new Set(named)].sort((a, b) => a - b)
}

function printedTable(coop: CoopWays) {
  return plainTable(
    'The printed table, rounded to whole degrees Fahrenheit',
    ['Altitude', '#Jelly is done'],
    printedJellyPoints.map(({ ft, jellyF }) => ({
      name: altitudeText(ft * 0.3048, coop),
      cells: [temperatureText(toCelsius(jellyF), coop)],
    })),
    [printedJellyPointsSource],
  )
}

const metricSteps = [0, 250, 500, 750, 1000, 1500, 2000, 2500, 3000]
const usSteps = [0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10].map((thousands) => thousands * 304.8)
