import { type RipenessClass, ripenessClasses } from '../../core/produce/index.ts'
import { largestLotGrams } from '../../core/units/index.ts'
import type { SortedGrams } from './lot.ts'
import type { Standing } from './standing.ts'

/** What a batch took out of a lot: whole grams by the class that whoever took it saw. */
export type TakenGrams = Record<RipenessClass, number>

/**
 * The sorting of a lot after a batch took something out of it.
 *
 * More than the forecast has in a class needs `sure`. Then the rest comes out of the classes next to it, since the
 * forecast may call soft what a cook calls ripe, then out of what has spoiled; what is more than all that lies there
 * shows that the lot was heavier than noted. Everything else stays as it is: what came in is still what is there, set
 * aside, lost and used together.
 *
 * @returns `short`: the classes of which less is there than was taken, with what is there; or why in words, for a lot
 * that would grow beyond what a lot can be
 */
export function lotAfterUse(
  before: Standing,
  taken: TakenGrams,
  sure: boolean,
): { ok: true; sorting: SortedGrams } | { ok: false; short: Partial<TakenGrams> } | { ok: false; problem: string } {
  const short: Partial<TakenGrams> = {}
  for (const name of ripenessClasses) if (taken[name] > before.grams[name]) short[name] = before.grams[name]
  if (Object.keys(short).length > 0 && !sure) return { ok: false, short }

  const left = { ...before.grams }
  let spoiledGrams = before.spoiledGrams
  let beyond = 0
  // what each class has itself first, so that no class gives to its neighbour what was taken from it
  const missing = ripenessClasses.map((name) => {
    const own = Math.min(taken[name], left[name])
    left[name] -= own
    return { name, grams: taken[name] - own }
  })
  for (const { name, grams } of missing) {
    let rest = grams
    for (const from of nearestFirst(name)) {
      const out = Math.min(rest, left[from])
      left[from] -= out
      rest -= out
    }
    const spoiled = Math.min(rest, spoiledGrams)
    spoiledGrams -= spoiled
    beyond += rest - spoiled
  }
  if (before.wholeGrams + beyond > largestLotGrams) return { ok: false, problem: 'Enter less than 50 tonnes in all' }
  const usedGrams = before.usedGrams + ripenessClasses.reduce((sum, name) => sum + taken[name], 0)
  const { on, setAsideGrams, lostGrams } = before
  return {
    ok: true,
    sorting: { sortedOn: on, grams: left, setAsideGrams, lostGrams: lostGrams + spoiledGrams, usedGrams },
  }
}

/** The other classes, the nearest in ripeness first; of two as near, the one further on. */
function nearestFirst(name: RipenessClass): RipenessClass[] {
  const at = ripenessClasses.indexOf(name)
  const far = (other: RipenessClass) => Math.abs(ripenessClasses.indexOf(other) - at)
  return ripenessClasses
    .filter((other) => other !== name)
    .sort((a, b) => far(a) - far(b) || ripenessClasses.indexOf(b) - ripenessClasses.indexOf(a))
}
