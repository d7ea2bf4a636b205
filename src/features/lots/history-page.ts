import type { Formatter } from '../../web/format.ts'
import type { Sorting } from './lot.ts'
import { wayWords } from './names.ts'
import { standingSortings } from './sorting.ts'

/** The sortings of a lot for eyes, newest first; given oldest first. */
export function historyOf(oldestFirst: readonly Sorting[], format: Formatter) {
  const counting = new Set(standingSortings(oldestFirst).map(({ id }) => id))
  return [...oldestFirst].reverse().map((sorting) => {
    const { id, how, grams, setAsideGrams, lostGrams, usedGrams, sortedBy, note, createdAt, sortedOn } = sorting
    const gone = how !== 'taken-back' && !counting.has(id)
    return {
      at: how === 'arrival' ? format.date(sortedOn) : format.instant(new Date(createdAt)),
      how: `${wayWords[how]}${gone ? ' (taken back later)' : ''}${note === null ? '' : `: ${note}`}`,
      firm: format.weight(grams.firm),
      ripe: format.weight(grams.ripe),
      soft: format.weight(grams.soft),
      damaged: format.weight(grams.damaged),
      setAside: format.weight(setAsideGrams),
      lost: format.weight(lostGrams),
      used: format.weight(usedGrams),
      who: sortedBy,
    }
  })
}
