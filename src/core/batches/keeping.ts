import { type KeepingPlace, keepingOf, type Keeping as StorageLife } from '../practice/keeping.ts'
import { dateAfter } from '../produce/dates.ts'
import { crop } from '../produce/index.ts'
import type { Method } from '../produce/vocabulary.ts'
import { isCanned } from '../recipes/canned.ts'
import { type Keeping, keepsIn, type PlaceKind } from '../shelf/index.ts'

/**
 * What a batch must be kept in when it is put into a place of this kind; null where that place does not keep it.
 *
 * @param shelfStable of canned food: whether it was processed by the tested process that it claims. Without, it is kept
 * cold whatever its jar looks like.
 */
export function keepingIn(method: Method, shelfStable: boolean, kind: PlaceKind): Keeping | null {
  if (method === 'dried') return 'dry'
  if (method === 'frozen') return kind === 'freezer' ? 'freezer' : null
  if (isCanned(method) && shelfStable) return keepsIn('shelf', kind) ? 'shelf' : null
  return kind === 'freezer' || kind === 'refrigerator' ? kind : null
}

/** What decides how long a batch keeps. */
export type Kept = { method: Method; keeping: Keeping; crops: readonly string[] }

/** The published life that a best-by date comes from, opened jars' where a jar is no better than an opened one; null: none. */
export function storageLifeOf({ method, keeping, crops }: Kept): StorageLife | null {
  const named = whatItIs({ method, keeping, crops })
  if (named === null) return null
  return keepingOf(named.what, placeOf[keeping], named.opened === true)
}

/** The last day (ISO date) of the shorter published life; null where nothing is published, and nothing is assumed. */
export function bestByOf(kept: Kept, madeOn: string): string | null {
  const life = storageLifeOf(kept)
  return life === null ? null : dateAfter(madeOn, life.days[0])
}

const placeOf: Record<Keeping, KeepingPlace> = {
  shelf: 'shelf',
  dry: 'shelf',
  refrigerator: 'refrigerator',
  freezer: 'freezer',
}

function whatItIs({ method, keeping, crops }: Kept): { what: string; opened?: true } | null {
  const fruit = crops.length > 0 && crops.every((key) => crop(key)?.kind === 'fruit')
  const only = (key: string) => crops.length === 1 && crops[0] === key
  switch (keeping) {
    case 'shelf':
      return { what: 'home-canned food' }
    case 'dry':
      return { what: fruit ? 'dried fruit' : 'dried vegetables' }
    case 'freezer':
      if (method === 'juiced' && only('apple')) return { what: 'fresh apple juice' }
      return { what: fruit ? 'frozen fruit' : 'frozen vegetables' }
    case 'refrigerator':
      // A jar that is not vouched for counts as one that was opened: nothing longer is published for it.
      if (method === 'pressure-canned') return { what: 'canned food of low acid', opened: true }
      if (method === 'water-bath-canned') return { what: 'canned food of high acid', opened: true }
      if (method === 'juiced' && only('apple')) return { what: 'fresh apple juice' }
      if (method === 'fermented' && only('cabbage')) return { what: 'sauerkraut' }
      if (method === 'fermented' && only('cucumber')) return { what: 'fermented dill pickles' }
      return null
  }
}
