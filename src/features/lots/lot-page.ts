import { chills, dwellDays, ripenessClasses, storageTempC } from '../../core/produce/index.ts'
import type { CoopWays } from '../../web/asking.ts'
import { formModel } from '../../web/fields.ts'
import { type Formatter, formatFor } from '../../web/format.ts'
import type { TypedForm } from '../../web/forms.ts'
import { batchPath } from '../batches/paths.ts'
import { cropPath } from '../crops/paths.ts'
import { newPlanPath } from '../plans/paths.ts'
import { newRecallPath, traceLotPath } from '../recalls/paths.ts'
import { lotBeam } from './beams.ts'
import { forecastOf } from './forecast-page.ts'
import { storageField } from './form-page.ts'
import { historyOf } from './history-page.ts'
import { dayWords } from './list-page.ts'
import type { Lot, Sorting } from './lot.ts'
import { classWords, lotTitle, sourceWords, storageWords } from './names.ts'
import {
  closedLotsPath,
  lotChangePath,
  lotClosurePath,
  lotReopeningPath,
  lotStoragePath,
  lotsPath,
  newSortingPath,
  sortingReversalPath,
} from './paths.ts'
import type { batchesOfLot } from './queries.ts'
import { beforeLastSorting } from './sorting.ts'
import { knownCrop, type Standing, standingOn } from './standing.ts'

/** One lot: the sentence, the beam, the forecast, the means to change it, and its history (`sortings` oldest first). */
export function lotPage(
  form: TypedForm,
  more: {
    coop: CoopWays
    lot: Lot
    sortings: readonly Sorting[]
    batches: Awaited<ReturnType<typeof batchesOfLot>>
    today: string
  },
) {
  const { coop, lot, sortings, batches, today } = more
  const format = formatFor(coop)
  const standing = standingOn(lot, today)
  const closed = lot.closedOn !== null
  const canTakeBack = !closed && beforeLastSorting(sortings) !== null
  return {
    title: `${lotTitle(lot)}, from ${lot.broughtBy}`,
    place: 'produce' as const,
    sentence: closed
      ? `Closed on ${format.date(lot.closedOn ?? today)}: nothing of it is left to plan with.`
      : lotSentence(standing, format),
    beam: lotBeam('classes', `Where ${format.weight(standing.wholeGrams)} are today`, standing, format),
    spoiled:
      standing.spoiledGrams === 0 || closed
        ? ''
        : `By the forecast ${format.weight(standing.spoiledGrams)} have passed their days since the last sorting. Sort the lot to find what is really lost.`,
    facts: factsOf(lot, format),
    forecast: closed || standing.usableGrams === 0 ? null : forecastOf(lot, standing, format),
    why: whyOf(lot, format),
    history: historyOf(sortings, format),
    batches: batches.map(({ id, code, product, madeOn, grams }) => ({
      href: batchPath(id),
      name: `${product}, ${code}`,
      made: format.date(madeOn),
      weight: format.weight(grams),
    })),
    closed,
    version: String(lot.version),
    paths: {
      sort: newSortingPath(lot.id),
      change: lotChangePath(lot.id),
      storage: lotStoragePath(lot.id),
      takeBack: canTakeBack ? sortingReversalPath(lot.id) : '',
      closure: lotClosurePath(lot.id),
      reopening: lotReopeningPath(lot.id),
      plan: newPlanPath(lot.id),
      trace: traceLotPath(lot.id),
      recall: newRecallPath({ lotId: lot.id }),
      back: closed ? closedLotsPath() : lotsPath(),
    },
    form: formModel({ storage: storageField(form, 'Move it to') }, form),
  }
}

/** "36.4 kg of use: 1.3 kg by tomorrow (Sat 12 Sep), the last of it by Tue 22 Sep." */
export function lotSentence(standing: Standing, format: Formatter): string {
  const { usableGrams, first, lastUseBy, on } = standing
  if (first === null || lastUseBy === null) return 'Nothing of it is of use any more.'
  const all = `${format.weight(usableGrams)} to use`
  if (first.useBy === lastUseBy) return `${all} by ${dayWords(lastUseBy, on, format)}.`
  const part = `${format.weight(first.grams)} by ${dayWords(first.useBy, on, format)}`
  return `${all}: ${part}, the last of it by ${dayWords(lastUseBy, on, format)}.`
}

function factsOf(lot: Lot, format: Formatter) {
  const weight = format.weight(lot.weightGrams)
  const weighed = weight === lot.weightTyped ? weight : `${weight} (“${lot.weightTyped}”)`
  const facts: [string, string][] = [
    ['Came in', `${format.date(lot.arrivedOn)}, ${weighed}`],
    ['From', `${lot.broughtBy}, ${sourceWords[lot.source]}`],
    ['Counts for', lot.household ?? ''],
    ['Waits', `${storageWords[lot.storage].where}, about ${format.temperature(storageTempC[lot.storage])}`],
    ['Price', lot.priceMinor === null ? '' : format.money(lot.priceMinor)],
    ['Note', lot.note ?? ''],
  ]
  return facts.filter(([, value]) => value !== '').map(([name, value]) => ({ name, value }))
}

/** Where the days of the forecast come from. */
function whyOf(lot: Lot, format: Formatter) {
  const known = knownCrop(lot.crop)
  const days = dwellDays(known, lot.storage)
  const each = ripenessClasses.map((name) => `${classWords[name].name} ${format.number(days[name], 1)}`).join(', ')
  return {
    words: `Days in each class at about ${format.temperature(storageTempC[lot.storage])}: ${each}. An estimate for planning from published storage lives; it says nothing about whether food may still be eaten.`,
    chills: chills(known, lot.storage)
      ? `This place is colder than ${known.plural} bear well: more cold keeps them no longer.`
      : '',
    link: { href: cropPath(known.key), text: `Why these days: what is known of ${known.plural}, and its sources` },
  }
}
