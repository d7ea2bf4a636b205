import type { CoopWays } from '../../../web/asking.ts'
import { type Formatter, formatFor } from '../../../web/format.ts'
import { shareOutPath } from '../paths.ts'
import type { ShareOut } from '../proposals/queries.ts'

type Pick = ShareOut['answer']['picks'][number]['picks'][number]

/** Which jars to take from where: of every household, or of the one that is named. Made for paper. */
export function pickingPage({ id, name, state, question, answer }: ShareOut, householdId: string, coop: CoopWays) {
  const format = formatFor(coop)
  const lists = answer.picks.filter((list) => householdId === '' || list.householdId === householdId)
  const households = lists.map(({ householdId: household, picks }) => {
    const { name = '' } = question.households.find((one) => one.id === household) ?? {}
    const jars = picks.reduce((sum, { units }) => sum + units, 0)
    return {
      name,
      says: jars === 0 ? 'No jars this time.' : `${format.count(jars, 'jar')} to take.`,
      places: placesOf(picks).map((place) => ({
        name: place,
        rows: picks.filter((pick) => pick.place === place).map((pick) => pickRow(pick, question, format)),
      })),
    }
  })
  return {
    title: `${name}: what to take from where`,
    place: 'shelf' as const,
    says:
      state === 'handed-out'
        ? 'Oldest first. These jars belong to their households.'
        : state === 'proposed'
          ? 'Oldest first. A proposal: take them once it is handed out.'
          : 'This proposal was dropped: take nothing.',
    households,
    back: shareOutPath(id),
  }
}

/** In the order in which they come. */
function placesOf(picks: readonly Pick[]): string[] {
  return [...new Set(picks.map(({ place }) => place))]
}

function pickRow({ productId, code, bestBy, units }: Pick, { products }: ShareOut['question'], format: Formatter) {
  const { name = productId, unit = 'jar', unitsName = 'jars' } = products.find(({ id }) => id === productId) ?? {}
  return {
    units: format.count(units, unit, unitsName),
    name,
    code,
    bestBy: bestBy === null ? 'no date noted' : `best by ${format.date(bestBy)}`,
  }
}
