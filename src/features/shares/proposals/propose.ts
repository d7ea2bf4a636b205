import { type PickingList, pickingList, type ShareOut as Shared, shareOut } from '../../../core/shares/index.ts'
import type { TransactionClient } from '../../../db/transaction.ts'
import { Failure, refused } from '../../../errors.ts'
import { refuseProblems } from '../../../web/answers.ts'
import type { Asking } from '../../../web/asking.ts'
import type { StoredAnswer, StoredQuestion } from '../documents.ts'
import { findRule, listSharing, type Rule, type SharingHousehold } from '../rule/queries.ts'
import { type Brought, broughtIn, findPeriod, owedNow, type Period } from '../standing/queries.ts'
import { pointsFor } from '../standing/standing.ts'
import { countShareOuts, type SharedStock, sharedStock } from './queries.ts'

/** All that a proposal is made from, as it stands now. */
export type ShareFacts = {
  rule: Rule
  members: SharingHousehold[]
  period: Period
  brought: Brought
  owed: ReadonlyMap<string, number>
  stock: SharedStock[]
  /** The households take turns at being the first to pick. */
  turn: number
}

/** What is chosen: jars by product, and who takes part with what they brought. */
export type ShareChoice = {
  products: readonly { id: string; units: number; worthMinor: number }[]
  households: readonly { id: string; grams: number; minutes: number; moneyMinor: number; declines: readonly string[] }[]
}

export async function shareFacts(
  prisma: TransactionClient,
  asking: Asking,
  today: string,
  since?: string,
): Promise<ShareFacts> {
  const period = await findPeriod(prisma, asking, today, since)
  return {
    rule: await findRule(prisma, asking),
    members: await listSharing(prisma, asking),
    period,
    brought: await broughtIn(prisma, asking, period),
    owed: await owedNow(prisma, asking),
    stock: await sharedStock(prisma, asking),
    turn: await countShareOuts(prisma, asking),
  }
}

export type Proposal = { question: StoredQuestion; answer: StoredAnswer }

/**
 * As `propose`, with a refusal kept for `proposed` to throw: a form that is sent again leads to what the first one
 * came to, even where its jars are gone by then. Null for no choice.
 */
export function tryToPropose(facts: ShareFacts, choice: ShareChoice | null): Proposal | Failure | null {
  if (choice === null) return null
  try {
    return propose(facts, choice)
  } catch (error) {
    if (error instanceof Failure) return error
    throw error
  }
}

/** The proposal, or its refusal thrown. */
export function proposed(tried: Proposal | Failure | null): Proposal {
  if (tried === null) throw new Error('nothing was chosen')
  if (tried instanceof Failure) throw tried
  return tried
}

/**
 * Works a sharing out: up to a second for very many households and products, so it belongs outside any transaction.
 *
 * @throws refused in words by field (`product.<id>.units`, or the whole) for no jars, more than there are, nobody to
 * share with, and nobody with points or people
 */
function propose(facts: ShareFacts, choice: ShareChoice): Proposal {
  const question = questionOf(facts, choice)
  const { rule, households, products } = question
  const shared = shareOut({
    products: products.map(({ id, units, worthMinor }) => ({ id, units, worth: worthMinor })),
    households: households.map(({ id, points, people, owedMinor, declines }) => ({
      ...{ id, points, people, declines },
      owed: owedMinor,
    })),
    method: rule.method,
    byNeedPercent: rule.byNeedPercent,
  })
  const lines = facts.stock.flatMap((product) => product.lines)
  const ids = households.map(({ id }) => id).sort()
  const first = ids[facts.turn % ids.length]
  const due = shared.households.map(({ id: householdId, units }) => ({ householdId, units }))
  return { question, answer: answerOf(shared, pickingList(due, lines, first), facts.stock) }
}

function questionOf({ rule, members, period, brought, owed, stock }: ShareFacts, choice: ShareChoice): StoredQuestion {
  const known = new Map(stock.map((product) => [product.id, product]))
  const wanted = choice.products.filter(({ units }) => units > 0)
  const problems: Record<string, string> = {}
  for (const { id, units } of wanted) {
    const there = known.get(id)?.units ?? 0
    if (units > there)
      problems[`product.${id}.units`] =
        `Only ${there} of ${known.get(id)?.name ?? 'these'} can be shared out: enter no more`
  }
  refuseProblems(problems)
  if (wanted.length === 0) throw refused('Enter how many jars are shared out: at least one.')
  const taking = choice.households.flatMap((one) => {
    const member = members.find(({ id }) => id === one.id)
    return member === undefined ? [] : [{ ...member, ...one }]
  })
  if (taking.length < choice.households.length) throw refused('One of these households is not there any more.')
  if (taking.length === 0) throw refused('Choose at least one household that takes part.')

  const { version, ...values } = rule
  const sharedIds = new Set(wanted.map(({ id }) => id))
  const households = taking.map(({ declines, ...one }) => ({
    ...one,
    points: pointsFor(one, rule),
    owedMinor: owed.get(one.id) ?? 0,
    declines: declines.filter((id) => sharedIds.has(id)),
  }))
  if (!households.some(({ points, people }) => points > 0 || people > 0))
    throw refused(
      'No household that takes part has points or people: enter what they brought, or how many people live there.',
    )
  return {
    rule: values,
    from: period.from,
    until: period.until,
    counted: brought.counted,
    products: wanted.flatMap(({ id, units, worthMinor }) => {
      const product = known.get(id)
      if (product === undefined) return []
      const { recipeId, pack, name, unit, unitsName } = product
      return [{ id, recipeId, pack, name, unit, unitsName, units, worthMinor }]
    }),
    households,
  }
}

function answerOf(shared: Shared, list: PickingList, stock: readonly SharedStock[]): StoredAnswer {
  if (list.missing.length > 0) throw new Error('jars were divided that stand nowhere')
  const lineOf = new Map(stock.flatMap(({ lines }) => lines).map((line) => [line.jarBatchId, line]))
  return {
    households: shared.households,
    products: shared.products.map(({ apportionment, ...product }) => ({
      ...product,
      apportionment: apportionment && {
        ...apportionment,
        // JSON has no word for no end
        divisor: apportionment.divisor && {
          ...apportionment.divisor,
          upTo: Number.isFinite(apportionment.divisor.upTo) ? apportionment.divisor.upTo : null,
        },
      },
    })),
    picks: list.households.map(({ householdId, picks }) => ({
      householdId,
      picks: picks.map((pick) => {
        const { place = '', code = '' } = lineOf.get(pick.jarBatchId) ?? {}
        return { ...pick, place, code }
      }),
    })),
  }
}
