import {
  jamWithoutPectin,
  juiceCupsPerLb,
  juiceToJelly,
  pectinNotes,
  sugarIsNotCut,
} from '../../core/practice/index.ts'
import { boilingPointAt } from '../../core/process/atmosphere.ts'
import { aboveBoilingF, gelPoint, gelSource, spreads } from '../../core/process/gel.ts'
import { lookUpProcess, processTable } from '../../core/process/index.ts'
import type { CoopWays } from '../../web/asking.ts'
import { jarWords, minutesText } from '../processes/index.ts'
import { processesPath } from '../processes/paths.ts'
import { capital, cropName, cropNames, cupsText, fractionText, rangeText, temperatureText } from './figures.ts'
import { line, plainTable, section, sourcedTable, topicPage } from './parts.ts'
import { altitudePath } from './paths.ts'

/** Jam and jelly: when they are done here, what goes in, what a fruit brings along. */
export function spreadsPage(coop: CoopWays) {
  const jelly = gelPoint('jelly', { altitudeM: coop.altitudeM })
  return topicPage({
    title: 'Jam and jelly',
    sentence: `Jelly without added pectin is done at ${temperatureText(jelly.celsius, coop)} here.`,
    sections: [doneSection(coop), withoutSection(), withSection(coop), pectinSection()],
    links: [
      { href: altitudePath(), text: 'The jelly point at another altitude' },
      { href: processesPath(), text: 'Look up a tested process' },
    ],
  })
}

function doneSection(coop: CoopWays) {
  const at = { altitudeM: coop.altitudeM }
  return section({
    id: 'done',
    heading: 'When it is done',
    tables: [
      plainTable(
        'Without added pectin, at this altitude',
        ['Spread', '#Above boiling water', '#Done at'],
        spreads.map((spread) => ({
          name: capital(spread),
          cells: [degreesAbove(aboveBoilingF[spread]), temperatureText(gelPoint(spread, at).celsius, coop)],
        })),
        [gelSource],
      ),
    ],
    lines: [
      line(
        `Hold the thermometer in boiling water first. By the altitude it shows ${temperatureText(boilingPointAt(coop.altitudeM), coop)} here; count from what it really shows that day.`,
        gelSource,
      ),
    ],
    caution: 'Boiling sugar burns deeper than water: a deep pot, a long spoon, adults only at the stove.',
  })
}

function withoutSection() {
  return section({
    id: 'without',
    heading: 'Without added pectin',
    tables: [
      sourcedTable(
        'Juice for jelly, and jelly from it',
        ['Fruit', 'Water for 1 lb', 'Simmer', 'Sugar for 1 cup of juice', 'Lemon juice for 1 cup', 'From 4 cups'],
        juiceToJelly.map((one) => ({
          name: cropName(one.crop),
          cells: [
            cupsRange(one.cupsWaterPerLb),
            `${rangeText(one.simmerMinutes)} minutes`,
            cupsRange(one.sugarCupsPerCupJuice),
            one.lemonTspPerCupJuice === 0 ? 'none' : `${fractionText(one.lemonTspPerCupJuice)} tsp`,
            `${rangeText(one.halfPintsFromFourCups)} half-pints`,
          ],
          source: one.source,
        })),
      ),
      sourcedTable(
        'Jam, one batch',
        ['Fruit', 'Crushed', 'Sugar', 'Lemon juice', 'Gives'],
        jamWithoutPectin.map(({ fruit, cupsCrushed, cupsSugar, lemonTbsp, halfPints, source }) => ({
          name: capital(fruit),
          cells: [
            cupsRange(cupsCrushed),
            cupsRange(cupsSugar),
            lemonTbsp === 0 ? 'none' : `${fractionText(lemonTbsp)} tbsp`,
            `${rangeText(halfPints)} half-pints`,
          ],
          source,
        })),
      ),
    ],
    lines: [
      line(`A pound of fruit gives ${cupsText(juiceCupsPerLb.atLeast)} of clear juice or more.`, juiceCupsPerLb.source),
      line(sugarIsNotCut.says, sugarIsNotCut.source),
    ],
  })
}

/** The tested processes for spreads with and without pectin, at this altitude. */
function withSection(coop: CoopWays) {
  const rows = processTable().filter(({ product }) => /^(jam|jelly)\b.*pectin/.test(product))
  return section({
    id: 'with',
    heading: 'With added pectin, and minutes in the canner',
    says: [
      'Added pectin sets by itself, so no thermometer decides. Follow the recipe that comes with it: its amounts and the order in which things go in belong together.',
    ],
    tables: [
      sourcedTable(
        'Boiling-water canner, at this altitude',
        ['Spread', 'Jars', 'Minutes'],
        rows.flatMap(({ product, form, pack, jars }) =>
          jars.flatMap((jar) => {
            const found = lookUpProcess({
              product,
              form,
              pack,
              jar,
              method: 'boiling-water',
              altitudeM: coop.altitudeM,
            })
            if (found.answer !== 'tested') return []
            const empty = found.sterileJars ? '; empty jars boiled first' : ''
            return [
              {
                name: capital(product),
                cells: [jarWords[jar].more, `${minutesText(found.minutes)}${empty}`],
                source: found.source,
              },
            ]
          }),
        ),
      ),
    ],
  })
}

function pectinSection() {
  return section({
    id: 'pectin',
    heading: 'What a fruit brings along',
    tables: [
      sourcedTable(
        'Pectin by fruit',
        ['Pectin', 'Fruit', 'What that means'],
        (['high', 'medium', 'low'] as const).map((level) => {
          const { crops, says, source } = pectinNotes[level]
          return { name: capital(level), cells: [cropNames(crops), says], source }
        }),
      ),
    ],
  })
}

function cupsRange([low, high]: readonly [number, number]): string {
  if (high === 0) return 'none'
  if (low === 0) return `none to ${cupsText(high)}`
  return low === high ? cupsText(low) : `${fractionText(low)} to ${cupsText(high)}`
}

function degreesAbove(fahrenheit: number): string {
  const celsius = (fahrenheit * 5) / 9
  return `${rangeText([celsius, celsius])} °C (${fahrenheit} °F)`
}
