import type { FastifyRequest } from 'fastify'
import type { WishFor } from '../../core/division/index.ts'
import type { TransactionClient } from '../../db/transaction.ts'
import { refuseProblems } from '../../web/answers.ts'
import { recipePath } from '../recipes/paths.ts'
import { type NotForShelf, readKitchen } from './kitchen/queries.ts'
import { todayFor } from './load.ts'
import type { PlanView } from './pages.ts'

/** What is not offered since it follows no tested process here, each with its reason and its recipe. */
export function notForShelfRows(left: readonly NotForShelf[]) {
  return left.map(({ recipeId, name, units, says }) => ({
    name: `${name} in ${units}`,
    href: recipePath(recipeId),
    says: says.join(' '),
  }))
}

/** Wishes of a plan that follow no tested process here, any more or yet: they are not divided for. */
export function wishedInVain({ plan, kitchen }: Pick<PlanView, 'plan' | 'kitchen'>): NotForShelf[] {
  return kitchen.notForShelf.filter(({ recipeId, pack }) =>
    plan.wishes.some((wish) => wish.recipeId === recipeId && wish.pack === pack && wish.atMost > 0),
  )
}

/** Refuses a call's wishes for canned food that follows no tested process here, each at its place. */
export async function refuseNotForShelf(
  request: FastifyRequest,
  transaction: TransactionClient,
  wishes: readonly WishFor[],
): Promise<void> {
  if (wishes.length === 0) return
  const { notForShelf } = await readKitchen(transaction, request.asking, { today: todayFor(request) })
  const problems = wishes.flatMap(({ recipeId, pack }, number) => {
    const left = notForShelf.find((one) => one.recipeId === recipeId && one.pack === pack)
    return left === undefined ? [] : [[`wishes.${number}.pack`, left.says.join(' ')] as const]
  })
  refuseProblems(Object.fromEntries(problems))
}
