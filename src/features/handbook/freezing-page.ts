import {
  coolFirst,
  type FreezerPack,
  type FreezingWay,
  freezerHeadspace,
  freezerLoadPerDay,
  freezerPacks,
  freezerTempC,
  freezerTempSource,
  freezingWays,
  frozenMonths,
  highBlanching,
  keepings,
  sugarPackRatios,
  trayPack,
  unsealedJarHeadspace,
} from '../../core/practice/index.ts'
import { crop } from '../../core/produce/index.ts'
import type { CoopWays } from '../../web/asking.ts'
import { formatFor } from '../../web/format.ts'
import type { Equipment } from '../equipment/queries.ts'
import {
  altitudeText,
  capital,
  cropName,
  cupsText,
  inchesText,
  monthsText,
  rangeText,
  temperaturesText,
} from './figures.ts'
import { line, plainTable, section, sourcedTable, topicPage } from './parts.ts'
import { syrupsPath } from './paths.ts'

/** Freezing: room in the package, preparation, what the co-op's freezers take in a day, how long it keeps. */
export function freezingPage(freezers: readonly Equipment[], coop: CoopWays) {
  const liquid = freezerHeadspace('liquid', 'wide', 'quart')
  return topicPage({
    title: 'Freezing',
    sentence: `A wide quart of fruit in syrup leaves ${inchesText(liquid.inches, coop)} free; the freezer stands at ${temperaturesText([freezerTempC, freezerTempC], coop)}.`,
    sections: [loadSection(freezers, coop), headspaceSection(coop), waysSection(coop), keepingSection()],
    links: [{ href: syrupsPath(), text: 'Syrups for freezing, baths against browning' }],
  })
}

function loadSection(freezers: readonly Equipment[], coop: CoopWays) {
  const format = formatFor(coop)
  const perLitre = freezerLoadPerDay(1)
  const known = freezers.filter(({ roomMl }) => roomMl !== null)
  return section({
    id: 'a-day',
    heading: 'How much in a day',
    says: known.length === 0 ? ['No freezer of this co-op has its room noted yet, so the rule stands alone.'] : [],
    tables:
      known.length === 0
        ? []
        : [
            plainTable(
              'Unfrozen food that the freezers take in 24 hours',
              ['Freezer', '#Room', '#In a day'],
              known.map(({ name, count, roomMl }) => {
                const { grams } = freezerLoadPerDay(((roomMl ?? 0) / 1000) * count)
                return {
                  name: count === 1 ? name : `${name}, ${format.number(count)} of them`,
                  cells: [format.volume((roomMl ?? 0) * count), grams.map(format.weight).join(' to ')],
                }
              }),
              [perLitre.source],
            ),
          ],
    lines: [
      line(
        `The rule: ${perLitre.gramsPerLitre.map((grams) => format.number(grams)).join(' to ')} g of unfrozen food for each litre of the freezer in 24 hours. More thaws what is in it.`,
        perLitre.source,
      ),
      line(
        `The freezer stands at ${temperaturesText([freezerTempC, freezerTempC], coop)} or colder; packages lie in one layer until they are solid.`,
        freezerTempSource,
      ),
      line('Chill packages in the refrigerator first: food goes into the freezer cold.', coolFirst),
    ],
  })
}

function headspaceSection(coop: CoopWays) {
  return section({
    id: 'headspace',
    heading: 'Headspace',
    says: ['Food swells as it freezes. Jars with narrow shoulders crack first: leave all of it.'],
    tables: [
      sourcedTable(
        'Left free at the top',
        ['Pack', 'Mouth', '#Pint', '#Quart'],
        freezerPacks
          .filter((pack) => pack !== 'tray')
          .flatMap((pack) =>
            (['wide', 'narrow'] as const).map((top) => ({
              name: capital(packWords[pack]),
              cells: [
                top,
                inchesText(freezerHeadspace(pack, top, 'pint').inches, coop),
                inchesText(freezerHeadspace(pack, top, 'quart').inches, coop),
              ],
              source: freezerHeadspace(pack, top, 'quart').source,
            })),
          ),
      ),
    ],
    lines: [
      line(
        `Tray pack: pieces side by side for ${rangeText(trayPack.hours)} hours, large ones ${trayPack.largePiecesHours}, then into a bag with no headspace.`,
        trayPack.source,
      ),
      line(
        `A canned jar that did not seal may be frozen with ${inchesText(unsealedJarHeadspace.inches, coop)} left free.`,
        unsealedJarHeadspace.source,
      ),
    ],
  })
}

function waysSection(coop: CoopWays) {
  const { fromM, moreMinutes, source } = highBlanching
  const [strong, weak] = [sugarPackRatios.fruitToSugar[1], sugarPackRatios.fruitToSugar[0]]
  const ways = [...freezingWays].sort((a, b) => cropName(a.crop).localeCompare(cropName(b.crop), 'en'))
  return section({
    id: 'crops',
    heading: 'By crop',
    tables: [
      sourcedTable(
        'Fruit',
        ['Crop', 'Prepared', 'Packs', 'Sugar for a quart', 'Browns'],
        ways.filter(isFruit).map((way) => ({
          name: cropName(way.crop),
          cells: [
            way.how,
            packsText(way),
            way.sugarCupsPerQuart === null ? 'none printed' : cupsText(way.sugarCupsPerQuart),
            way.browns ? 'yes: ascorbic acid' : 'no',
          ],
          source: way.source,
        })),
      ),
      sourcedTable(
        'Vegetables',
        ['Crop', 'Prepared', 'In boiling water first', 'Packs'],
        ways
          .filter((way) => !isFruit(way))
          .map((way) => ({
            name: cropName(way.crop),
            cells: [way.how, blanchText(way, coop), packsText(way)],
            source: way.source,
          })),
      ),
    ],
    lines: [
      line(
        coop.altitudeM >= fromM
          ? `${moreMinutes} minute is added to each time above: this kitchen lies at ${altitudeText(coop.altitudeM, coop)}, and from ${altitudeText(fromM, coop)} up water boils cooler.`
          : `From ${altitudeText(fromM, coop)} up, ${moreMinutes} minute more in boiling water; not here.`,
        source,
      ),
      line(
        `Sugar packs lie between ${strong} and ${weak} parts of fruit to 1 of sugar by weight.`,
        sugarPackRatios.source,
      ),
    ],
  })
}

function keepingSection() {
  const inFreezer = keepings.filter(({ place, what }) => place === 'freezer' && !what.startsWith('frozen '))
  return section({
    id: 'keeps',
    heading: 'How long it is at its best',
    tables: [
      sourcedTable(
        'In the freezer',
        ['What', '#Months'],
        [
          ...(['fruit', 'vegetable'] as const).map((kind) => ({
            name: kind === 'fruit' ? 'Fruit' : 'Vegetables',
            cells: [monthsText(frozenMonths[kind].months)],
            source: frozenMonths[kind].source,
          })),
          ...inFreezer.map(({ what, days: [low, high], source }) => ({
            name: capital(what),
            cells: [monthsText([Math.floor(low / 30), Math.floor(high / 30)])],
            source,
          })),
        ],
      ),
    ],
  })
}

function isFruit({ crop: key }: FreezingWay): boolean {
  return crop(key)?.kind === 'fruit'
}

function packsText({ packs }: FreezingWay): string {
  return packs.map((pack) => packWords[pack]).join(', ')
}

/** Minutes at this altitude. */
function blanchText({ blanchMinutes }: FreezingWay, coop: CoopWays): string {
  if (blanchMinutes === null) return 'no'
  const more = coop.altitudeM >= highBlanching.fromM ? highBlanching.moreMinutes : 0
  const [low, high] = blanchMinutes
  return `${rangeText([low + more, high + more])} min`
}

const packWords: Record<FreezerPack, string> = {
  liquid: 'in syrup or sugar',
  dry: 'dry',
  juice: 'juice',
  tray: 'tray',
}
