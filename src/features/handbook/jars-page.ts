import { canningSyrupSource, homeCannedMonths, jarShelf, keepings, unusedLids } from '../../core/practice/index.ts'
import { processMethods } from '../../core/process/index.ts'
import {
  type Jar,
  jars,
  jarsThatFit,
  jarVolumeSource,
  type Kettle,
  mouthOpenings,
  packingSource,
  waterAboveMm,
  waterAboveSource,
} from '../../core/process/jars.ts'
import {
  boilingWaterFigures,
  loadMinutes,
  type PracticeFigure,
  type PracticeRule,
  pressureFigures,
  pressureRules,
  steamPhases,
} from '../../core/process/pressure-practice.ts'
import type { CoopWays } from '../../web/asking.ts'
import { numberField } from '../../web/fields.ts'
import { formatFor } from '../../web/format.ts'
import type { TypedForm } from '../../web/forms.ts'
import { equipmentListPath } from '../equipment/paths.ts'
import { jarWords, processMethodWords } from '../processes/index.ts'
import { capital, lengthText, monthsText, rangeText, temperaturesText } from './figures.ts'
import { line, plainTable, type Section, section, sourcedTable, topicPage } from './parts.ts'
import { altitudePath, jarsPath } from './paths.ts'

/** A process of this many minutes shows how long a load takes: an example of ours. */
const exampleMinutes = 25

/** Jars, what stands in a canner of given inside measures (null: not asked, or not understood), and how long a load takes. */
export function jarsTopic(form: TypedForm, coop: CoopWays, kettle: Kettle | null) {
  const { total } = loadMinutes('boiling-water', exampleMinutes)
  return topicPage({
    title: 'Jars and canner loads',
    sentence: `${exampleMinutes} minutes in boiling water hold the canner for about ${formatFor(coop).duration(total)}.`,
    ask: {
      action: jarsPath(),
      button: 'See what fits',
      form,
      fields: {
        width: numberField(form, {
          name: 'width',
          label: 'Inside width of a canner',
          hint: `In ${coop.units === 'us' ? 'inches' : 'centimetres'}, or with a unit: 30 cm, 12 in`,
        }),
        height: numberField(form, { name: 'height', label: 'Inside height', hint: 'From the bottom to the rim' }),
      },
    },
    sections: [
      ...(kettle === null ? [] : [fitSection(kettle, coop)]),
      jarsSection(coop),
      loadSection(coop),
      ...figuresSections(),
      keepingSection(coop),
    ],
    links: [
      { href: equipmentListPath(), text: 'The canners of this co-op' },
      { href: altitudePath(), text: 'Altitude, boiling water and steam' },
    ],
  })
}

function fitSection(kettle: Kettle, coop: CoopWays): Section {
  return section({
    id: 'fits',
    heading: `What stands in ${lengthText(kettle.insideWidthMm, coop)} by ${lengthText(kettle.insideHeightMm, coop)}`,
    says: ['Width first, then height. A rack, or what the canner’s maker says, may allow fewer: then that counts.'],
    tables: [
      plainTable(
        'Jars in one load',
        ['Jar', '#In a layer', '#Boiling water to 30 min', '#Longer', '#Pressure canner', 'Height'],
        jars.map((jar) => ({ name: jarName(jar), cells: fitCells(kettle, jar, coop) })),
        [waterAboveSource, packingSource, ...jars.slice(0, 1).map(({ source }) => source)],
      ),
    ],
  })
}

function fitCells(kettle: Kettle, jar: Jar, coop: CoopWays): string[] {
  const { number } = formatFor(coop)
  const short = jarsThatFit(kettle, jar, { waterAboveMm: waterAboveMm(30) })
  const longer = jarsThatFit(kettle, jar, { waterAboveMm: waterAboveMm(31) })
  const pressed = jarsThatFit(kettle, jar, { waterAboveMm: 0, boilingRoomMm: 0 })
  const counts = [short.perLayer, short.jars, longer.jars, pressed.jars].map((many) =>
    many === 0 ? 'none' : number(many),
  )
  const over = lengthText(Math.abs(short.heightLeftMm), coop)
  return [...counts, short.heightLeftMm < 0 ? `${over} too low to boil in` : `${over} over`]
}

function jarsSection(coop: CoopWays): Section {
  const { volume } = formatFor(coop)
  return section({
    id: 'jars',
    heading: 'Jars',
    tables: [
      sourcedTable(
        'Sizes for which times are published',
        ['Jar', '#Holds', '#Width outside', '#Height with lid'],
        jars.map((jar) => ({
          name: jarName(jar),
          cells: [volume(jar.ml), lengthText(jar.diameterMm, coop), lengthText(jar.heightMm, coop)],
          source: jar.source,
        })),
      ),
      sourcedTable(
        'Mouths',
        ['Mouth', '#Opening'],
        (['regular', 'wide'] as const).map((mouth) => ({
          name: capital(mouth),
          cells: [lengthText(mouthOpenings[mouth].mm, coop)],
          source: mouthOpenings[mouth].source,
        })),
      ),
    ],
    lines: [
      line('Jars hold US measures to the brim.', jarVolumeSource),
      line(
        'Recipes for canned fruit are printed for the two usual loads of a canner, 7 quarts and 9 pints.',
        canningSyrupSource,
      ),
    ],
  })
}

function loadSection(coop: CoopWays): Section {
  const { duration } = formatFor(coop)
  return section({
    id: 'load',
    heading: 'How long a load takes',
    says: ['By the middle of the published ranges, without filling the jars.'],
    tables: [
      plainTable(
        `A process of ${exampleMinutes} minutes`,
        ['Canner', '#Until it counts', '#Process', '#Until jars come out', '#In all'],
        processMethods.map((method) => {
          const { heat, process, after, total } = loadMinutes(method, exampleMinutes)
          return { name: capital(processMethodWords[method]), cells: [heat, process, after, total].map(duration) }
        }),
        [boilingWaterFigures.heatUp.source, pressureFigures.heatUp.source, steamPhases],
      ),
    ],
  })
}

function figuresSections(): Section[] {
  const named = (all: Record<string, PracticeFigure | PracticeRule>) =>
    Object.values(all).map(({ says, source }) => line(says, source))
  return [
    section({
      id: 'boiling-water',
      heading: 'Working with a boiling-water canner',
      lines: named(boilingWaterFigures),
      caution: 'Boiling water and hot jars: adults only at the stove, children and pets out of reach.',
    }),
    section({
      id: 'pressure',
      heading: 'Working with a pressure canner',
      lines: [...named(pressureFigures), ...named(pressureRules)],
      caution:
        'Steam under pressure and hot jars: adults only, never left alone, opened only when the pressure has fallen by itself.',
    }),
  ]
}

function keepingSection(coop: CoopWays): Section {
  const months = (days: number) => Math.floor(days / 30)
  return section({
    id: 'keeps',
    heading: 'How long a jar keeps',
    tables: [
      sourcedTable(
        'At its best',
        ['What', 'Where', '#Keeps'],
        keepings
          .filter(({ place, what }) => place !== 'freezer' && !what.startsWith('dried '))
          .map(({ what, place, opened, days: [low, high], source }) => ({
            name: capital(what),
            cells: [
              `${place}${opened ? ', opened' : ''}`,
              high < 60 ? `${rangeText([low, high])} days` : monthsText([months(low), months(high)]),
            ],
            source,
          })),
      ),
    ],
    lines: [
      line(`A label says ${homeCannedMonths.months} months for home-canned food.`, homeCannedMonths.source),
      line(
        `Shelf: ${temperaturesText(jarShelf.bestC, coop)}, never above ${temperaturesText([jarShelf.mostC, jarShelf.mostC], coop)}.`,
        jarShelf.source,
      ),
      line(`Unused lids seal for ${unusedLids.years} years or more from when they were made.`, unusedLids.source),
    ],
  })
}

function jarName({ size, mouth }: Jar): string {
  const bothMouths = jars.filter((one) => one.size === size).length > 1
  return capital(bothMouths ? `${jarWords[size].more}, ${mouth} mouth` : jarWords[size].more)
}
