import {
  type AcidityClass,
  type Citation,
  type Crop,
  chills,
  damagedPart,
  dwellDays,
  ripenessClasses,
  ripePart,
  type StorageLife,
  sources,
  storages,
  storageTempC,
} from '../../core/produce/index.ts'
import { pieceSizes } from '../../core/units/index.ts'
import type { CoopWays } from '../../web/asking.ts'
import { type Formatter, formatFor } from '../../web/format.ts'
import { cropPath, cropsPath } from './paths.ts'

/** All crops, each with what decides most: how sour it is, what a bushel weighs, how long it keeps once ripe. */
export function cropsPage(crops: readonly Crop[], coop: CoopWays) {
  const format = formatFor(coop)
  const byName = [...crops].sort((a, b) => a.plural.localeCompare(b.plural, 'en'))
  return {
    title: 'What is known of each crop',
    place: 'produce' as const,
    sentence: `${format.count(crops.length, 'crop')} with figures, each with its source.`,
    rows: byName.map((crop) => {
      const bushel = crop.containers.find(({ container }) => container === 'bushel')
      return {
        href: cropPath(crop.key),
        name: capital(crop.plural),
        acidity: crop.acidity,
        ph: phRange(crop, format),
        bushel: bushel === undefined ? 'no figure' : format.weight(bushel.grams),
        ripe: `${format.number(dwellDays(crop, 'cold').ripe, 1)} days`,
      }
    }),
  }
}

/** All that is known of one crop, with the source and the standing of each figure. */
export function cropPage(crop: Crop, coop: CoopWays) {
  const format = formatFor(coop)
  return {
    title: `What is known of ${crop.plural}`,
    place: 'produce' as const,
    names: crop.synonyms.length === 0 ? '' : `Also understood: ${crop.synonyms.join(', ')}.`,
    acidity: {
      words: `pH ${phRange(crop, format)}: ${acidityWords[crop.acidity]}.`,
      source: cited(crop.ph.source),
      notice: crop.acidityNotice === undefined ? '' : cited(crop.acidityNotice),
    },
    weights: [
      ...crop.containers.map(({ container, grams, source }) => ({
        what: `1 ${container}`,
        weight: format.weight(grams),
        source: cited(source),
      })),
      ...piecesOf(crop, format),
    ],
    trim: {
      words: `${format.percent(crop.trim.edible)} is kept (${crop.trim.how}), ${format.percent(crop.trim.share)} leaves as ${trimWords[crop.trim.kind]}.`,
      source: cited(crop.trim.source),
    },
    lives: crop.storageLives.map((life) => ({
      what: basisWords[life.basis],
      at: exactTemperature(life.tempC, coop),
      days: daysRange(life, format),
      source: cited(life.source),
    })),
    ageing: {
      q10: `Ten degrees Celsius warmer it ages ${format.number(crop.q10.value, 2)} times as fast.`,
      source: cited(crop.q10.source),
      chills:
        crop.chillsBelowC === null
          ? ''
          : `Below ${format.temperature(crop.chillsBelowC.value)} cold does harm and keeps it no longer.`,
      chillsSource: crop.chillsBelowC === null ? '' : cited(crop.chillsBelowC.source),
    },
    dwell: storages.map((storage) => ({
      storage,
      at: `about ${format.temperature(storageTempC[storage])}${chills(crop, storage) ? ', colder than it bears' : ''}`,
      days: ripenessClasses.map((name) => format.number(dwellDays(crop, storage)[name], 1)),
    })),
    method: `Worked out from the lives below: a life at one temperature is carried to another by how much faster the crop ages when warmer; of the life once ripe, the first ${format.percent(ripePart)} count as ripe and the rest as soft; damaged pieces last ${format.percent(damagedPart)} as long as soft ones (both common practice, no published figure).`,
    back: cropsPath(),
  }
}

/** "Document (edition), section. Note. Read in the source." */
export function cited({ document: id, section, note, confidence }: Citation): string {
  const { document, edition } = sources[id]
  if (confidence === 'practice')
    return `Common practice, no published figure${section === undefined ? '' : `: ${section}`}.`
  const place = section === undefined ? '' : `, ${section}`
  const more = note === undefined ? '' : ` ${capital(note)}.`
  return `${document} (${edition})${place}.${more} ${standingWords[confidence]}.`
}

const standingWords = { seen: 'Read in the source', memory: 'From memory, still to be checked' } as const

const acidityWords: Record<AcidityClass, string> = {
  acid: 'acid',
  borderline: 'borderline: the published range crosses 4.6',
  'low-acid': 'low-acid',
}
const basisWords: Record<StorageLife['basis'], string> = {
  'cold-store': 'firm, in a commercial cold store',
  household: 'ready to eat, at home',
  ripening: 'firm, until it is ripe',
}
const trimWords: Record<Crop['trim']['kind'], string> = {
  'peels-cores': 'peels and cores',
  pomace: 'pomace',
  'stones-stems': 'stones and stems',
}

/** As the source prints it: -0.5 °C is not -1 °C. */
function exactTemperature(celsius: number, coop: CoopWays): string {
  const format = formatFor(coop)
  return coop.units === 'metric' ? `${format.number(celsius, 2)} °C` : format.temperature(celsius)
}

function phRange({ ph }: Crop, format: Formatter): string {
  return ph.low === ph.high ? format.number(ph.low, 2) : `${format.number(ph.low, 2)} to ${format.number(ph.high, 2)}`
}

function daysRange({ days: [low, high] }: StorageLife, format: Formatter): string {
  return low === high ? format.count(low, 'day') : `${format.number(low)} to ${format.count(high, 'day')}`
}

function piecesOf(crop: Crop, format: Formatter) {
  const { pieces } = crop
  if (pieces === null) return []
  return pieceSizes.map((size) => ({
    what: `1 ${size} piece`,
    weight: format.weight(1000 / pieces.perKg[size]),
    source: cited(pieces.source),
  }))
}

function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1)
}
