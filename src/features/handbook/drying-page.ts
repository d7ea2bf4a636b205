import {
  afterDrying,
  type DryingWay,
  driedMonths,
  driedVegetableLives,
  dryingTempC,
  dryingWays,
  drynessTests,
  finalMoisture,
  hotOvenSlices,
  ovenHours,
  ovenMustHoldC,
  ovenTakesTimes,
  trayRoom,
} from '../../core/practice/index.ts'
import type { CoopWays } from '../../web/asking.ts'
import { formatFor } from '../../web/format.ts'
import { capital, cropName, cropNames, inBoth, lengthText, monthsText, rangeText, temperaturesText } from './figures.ts'
import { line, section, sourcedTable, topicPage } from './parts.ts'
import { freezingPath, syrupsPath } from './paths.ts'

const kinds = ['fruit', 'vegetable'] as const

/** Drying by crop, what an oven does to it, how dry feels, and what comes after. */
export function dryingPage(coop: CoopWays) {
  return topicPage({
    title: 'Drying',
    sentence: `Air of ${temperaturesText([dryingTempC.low, dryingTempC.high], coop)} dries without cooking.`,
    sections: [cropsSection(coop), ovenSection(coop), doneSection(coop), afterSection(coop), keepingSection(coop)],
    links: [
      { href: syrupsPath(), text: 'Baths against browning' },
      { href: freezingPath(), text: 'Freezing' },
    ],
  })
}

function cropsSection(coop: CoopWays) {
  return section({
    id: 'crops',
    heading: 'By crop',
    says: [
      'Hours depend on the air, the load and how evenly it was cut: begin to look at the shorter figure. In a dehydrator, unless it says otherwise.',
    ],
    tables: kinds.map((kind) =>
      sourcedTable(
        kind === 'fruit' ? 'Fruit' : 'Vegetables',
        ['Crop', 'Cut', '#Temperature', '#Hours', 'Before'],
        dryingWays
          .filter((way) => way.kind === kind)
          .sort((a, b) => nameOf(a).localeCompare(nameOf(b), 'en'))
          .map((way) => ({
            name: nameOf(way),
            cells: [way.cut, temperaturesText([way.tempC, way.tempC], coop), rangeText(way.hours), beforeText(way)],
            source: way.source,
          })),
      ),
    ),
    lines: [
      line(dryingTempText(coop), dryingTempC.source),
      line(
        `Half a bushel lies on ${inBoth(coop, `${rangeText([trayRoom.squareMetresPerHalfBushel, trayRoom.squareMetresPerHalfBushel])} square metres`, `${Math.round(trayRoom.squareMetresPerHalfBushel / 0.3048 ** 2)} square feet`)} of trays.`,
        trayRoom.source,
      ),
    ],
  })
}

function dryingTempText(coop: CoopWays): string {
  return `At ${temperaturesText([dryingTempC.low, dryingTempC.high], coop)}: warmer it hardens outside, cooler it may sour.`
}

function ovenSection(coop: CoopWays) {
  const { low, high, doorOpenMm, source } = ovenMustHoldC
  const example = dryingWays.find(({ crops, dryer }) => crops.includes('apple') && dryer === 'dehydrator')
  return section({
    id: 'oven',
    heading: 'In an oven: second best',
    lines: [
      line(
        `It must hold ${temperaturesText([low, high], coop)} with the door ajar, ${doorOpenMm.map((mm) => lengthText(mm, coop)).join(' to ')} open and a fan before it. Many ovens do not go so low: they cook what they should dry.`,
        source,
      ),
      line(
        `It takes ${rangeText(ovenTakesTimes.times)} times as long as a dehydrator${example === undefined ? '' : `: apple slices ${rangeText(ovenHours(example.hours))} hours instead of ${rangeText(example.hours)}`}.`,
        ovenTakesTimes.source,
      ),
      line(
        `Thin slices for ${hotOvenSlices.hours} hours at ${temperaturesText([hotOvenSlices.tempC, hotOvenSlices.tempC], coop)} come out half baked: eat them soon or keep them cold. Plans do not count on it.`,
        hotOvenSlices.source,
      ),
    ],
    caution: 'An oven with its door ajar for hours belongs out of reach of children and pets.',
  })
}

function doneSection(coop: CoopWays) {
  return section({
    id: 'dry',
    heading: 'How dry is dry',
    tables: [
      sourcedTable(
        'Test of a cooled piece',
        ['What', 'Test', '#Water left'],
        kinds.map((kind) => ({
          name: kind === 'fruit' ? 'Fruit' : 'Vegetables',
          cells: [drynessTests[kind].says, `about ${formatFor(coop).percent(finalMoisture[kind].share)}`],
          source: drynessTests[kind].source,
        })),
      ),
    ],
    lines: kinds.map((kind) =>
      line(
        `Water left in ${kind === 'fruit' ? 'fruit' : 'vegetables'}, by weight: ${formatFor(coop).percent(finalMoisture[kind].share)}.`,
        finalMoisture[kind].source,
      ),
    ),
  })
}

function afterSection(coop: CoopWays) {
  const { cool, condition, pasteurise, sun } = afterDrying
  return section({
    id: 'after',
    heading: 'After drying',
    tables: [
      sourcedTable(
        'In this order',
        ['Step', '#How long', 'What to do'],
        [
          {
            name: 'Cool',
            cells: [
              `${rangeText(cool.minutes)} minutes`,
              'Then pack it: warm pieces sweat, and left out they take up water again.',
            ],
            source: cool.source,
          },
          { name: 'Condition', cells: [`${rangeText(condition.days)} days`, condition.says], source: condition.source },
          {
            name: 'Pasteurise in the oven',
            cells: [
              `${pasteurise.oven.minutes} minutes`,
              `At ${temperaturesText([pasteurise.oven.tempC, pasteurise.oven.tempC], coop)}. ${pasteurise.says}`,
            ],
            source: pasteurise.oven.source,
          },
          {
            name: 'Or in the freezer',
            cells: [
              `${pasteurise.freezer.hours} hours`,
              `At ${temperaturesText([pasteurise.freezer.tempC, pasteurise.freezer.tempC], coop)}. ${pasteurise.says}`,
            ],
            source: pasteurise.freezer.source,
          },
        ],
      ),
    ],
    lines: [
      line(
        `In the sun: fruit only, from ${temperaturesText([sun.leastTempC, sun.leastTempC], coop)} up and with less than ${formatFor(coop).percent(sun.mostHumidity)} humidity.`,
        sun.source,
      ),
    ],
  })
}

function keepingSection(coop: CoopWays) {
  const [cool, mild, warm] = [16, 21, 27].map((celsius) => temperaturesText([celsius, celsius], coop))
  return section({
    id: 'keeps',
    heading: 'How long it keeps',
    says: ['In closed jars, dark and dry.'],
    tables: [
      sourcedTable(
        'In general',
        ['What', `#At ${cool}`, `#At ${warm}`],
        kinds.map((kind) => {
          const { at16C, at27C, source } = driedMonths[kind]
          return {
            name: kind === 'fruit' ? 'Fruit' : 'Vegetables',
            cells: [monthsText([at16C, at16C]), monthsText([at27C, at27C])],
            source,
          }
        }),
      ),
      sourcedTable(
        'Vegetables, each by itself',
        ['Vegetable', `#At ${cool}`, `#At ${mild}`],
        driedVegetableLives.map(({ crop, at16C, at21C, source }) => ({
          name: cropName(crop),
          cells: [monthsText(at16C), monthsText(at21C)],
          source,
        })),
      ),
    ],
  })
}

function nameOf({ crops, dryer }: DryingWay): string {
  return dryer === 'oven' ? `${cropNames(crops)}, in an oven` : cropNames(crops)
}

function beforeText({ steamMinutes, waterMinutes, syrupMinutes }: DryingWay): string {
  const ways = [
    ...(steamMinutes === null ? [] : [`steam ${rangeText(steamMinutes)} min`]),
    ...(waterMinutes === null ? [] : [`boiling water ${rangeText(waterMinutes)} min`]),
    ...(syrupMinutes === null ? [] : [`syrup ${syrupMinutes} min`]),
  ]
  return ways.length === 0 ? 'nothing printed' : capital(ways.join(', or '))
}
