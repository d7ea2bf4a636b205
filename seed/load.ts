import { DateTime } from 'luxon'
import type { PrismaClient } from '../src/db/generated/client.ts'
import {
  coop,
  equipment,
  helpers,
  households,
  lots,
  members,
  outlets,
  plan,
  steward,
  supplies,
  workDays,
} from './demonstration.ts'
import { seedRecipes } from './recipes.ts'
import { loadShelf, loadVinegar } from './shelf.ts'

/** Any number that no other advisory lock has. */
const LOADING = 640_001

/**
 * Writes the demonstration co-op in one transaction; does nothing and answers null if any co-op is there already.
 *
 * @param now the present instant: dates of lots and work days are counted from it, in the co-op's zone
 * @param newId makes a fresh short id
 * @returns the id of its plan, which is not worked out yet
 */
export async function loadDemonstration(
  prisma: PrismaClient,
  now: Date,
  newId: () => string,
): Promise<{ planId: string } | null> {
  const today = DateTime.fromJSDate(now, { zone: coop.timeZone }).toISODate()
  if (today === null) throw new RangeError('the clock gives no date')
  const dayIn = (days: number) => DateTime.fromISO(today, { zone: 'utc' }).plus({ days }).toJSDate()
  const coopId = coop.id

  return prisma.$transaction(
    async (tx) => {
      // of two processes that start together one loads it
      await tx.$executeRaw`SELECT pg_advisory_xact_lock(${LOADING})`
      if ((await tx.coop.count()) > 0) return null
      await tx.coop.create({ data: { ...coop } })

      const householdIds = new Map<string, string>(households.map((name) => [name, newId()]))
      const householdId = (name: string | null) => (name === null ? null : idOf(householdIds, name))
      await tx.household.createMany({ data: [...householdIds].map(([name, id]) => ({ coopId, id, name })) })
      await tx.member.createMany({
        data: members.map(({ name, household, role }) => ({
          coopId,
          id: newId(),
          householdId: idOf(householdIds, household),
          name,
          role,
        })),
      })

      const dayIds = workDays.map(() => newId())
      await tx.workDay.createMany({
        data: workDays.map(({ inDays, ...day }, number) => ({
          coopId,
          id: at(dayIds, number),
          date: dayIn(inDays),
          ...day,
        })),
      })

      const lotIds = lots.map(() => newId())
      await tx.lot.createMany({
        data: lots.map((lot, number) => ({
          coopId,
          id: at(lotIds, number),
          crop: lot.crop,
          variety: lot.variety,
          source: lot.source,
          broughtBy: lot.broughtBy,
          householdId: householdId(lot.household),
          arrivedOn: dayIn(-lot.arrivedDaysAgo),
          storage: lot.storage,
          weightGrams: totalGrams(lot),
          weightTyped: lot.weightTyped,
          priceMinor: lot.priceMinor,
          note: lot.note,
        })),
      })
      // Lots that came before today were taken as they came and sorted this morning.
      await tx.sorting.createMany({
        data: lots
          .map((lot, number) => ({ lot, lotId: at(lotIds, number) }))
          .filter(({ lot }) => lot.arrivedDaysAgo > 0)
          .map(({ lot, lotId }) => ({
            coopId,
            id: newId(),
            lotId,
            sortedOn: dayIn(-lot.arrivedDaysAgo),
            firmGrams: 0,
            ripeGrams: totalGrams(lot),
            softGrams: 0,
            damagedGrams: 0,
            setAsideGrams: 0,
            lostGrams: 0,
            how: 'arrival',
            sortedBy: steward.name,
            createdAt: dayIn(-lot.arrivedDaysAgo),
          })),
      })
      await tx.sorting.createMany({
        data: lots.map((lot, number) => ({
          coopId,
          id: newId(),
          lotId: at(lotIds, number),
          sortedOn: dayIn(0),
          firmGrams: lot.grams.firm,
          ripeGrams: lot.grams.ripe,
          softGrams: lot.grams.soft,
          damagedGrams: lot.grams.damaged,
          setAsideGrams: lot.setAsideGrams,
          lostGrams: lot.lostGrams,
          how: 'weights',
          sortedBy: steward.name,
          createdAt: now,
        })),
      })

      const recipeIds = new Map<string, string>(seedRecipes.map((recipe) => [recipe.name, newId()]))
      await tx.recipe.createMany({
        data: seedRecipes.map((recipe) => ({
          coopId,
          id: idOf(recipeIds, recipe.name),
          name: recipe.name,
          method: recipe.method,
          definition: recipe.definition,
        })),
      })

      await tx.recipeVersion.createMany({
        data: seedRecipes.map((recipe) => ({
          coopId,
          recipeId: idOf(recipeIds, recipe.name),
          version: 1,
          name: recipe.name,
          method: recipe.method,
          definition: recipe.definition,
          changedBy: steward.name,
          at: now,
        })),
      })

      await tx.equipment.createMany({ data: equipment.map((machine) => ({ coopId, id: newId(), ...machine })) })

      const helperIds = helpers.map(() => newId())
      await tx.helper.createMany({
        data: helpers.map((helper, number) => ({
          coopId,
          id: at(helperIds, number),
          name: helper.name,
          ageBand: helper.ageBand,
          skills: helper.skills,
          householdId: householdId(helper.household),
          speedPercent: helper.speedPercent,
          stretchMinutes: helper.stretchMinutes,
          likes: helper.likes,
          dislikes: helper.dislikes,
        })),
      })
      const spans = (of: 'hours' | 'breaks') =>
        helpers.flatMap((helper, number) =>
          helper[of].flatMap((span, day) =>
            span
              ? [
                  {
                    coopId,
                    helperId: at(helperIds, number),
                    workDayId: at(dayIds, day),
                    fromMinute: span[0],
                    toMinute: span[1],
                  },
                ]
              : [],
          ),
        )
      await tx.helperHours.createMany({ data: spans('hours') })
      await tx.helperBreak.createMany({ data: spans('breaks') })

      await tx.supply.createMany({ data: supplies.map((supply) => ({ coopId, id: newId(), ...supply })) })
      await tx.outlet.createMany({
        data: outlets.map((outlet, number) => ({ coopId, id: newId(), rank: number + 1, ...outlet })),
      })

      await loadShelf(
        { tx, coopId, now, newId },
        { household: (name) => idOf(householdIds, name), recipe: (name) => idOf(recipeIds, name) },
        steward.name,
      )
      await loadVinegar({ tx, coopId, now, newId }, steward.name)

      const planId = newId()
      await tx.plan.create({ data: { coopId, id: planId, name: plan.name, budgetMinor: plan.budgetMinor } })
      await tx.planLot.createMany({ data: lotIds.map((lotId) => ({ coopId, planId, lotId })) })
      await tx.planDay.createMany({ data: dayIds.map((workDayId) => ({ coopId, planId, workDayId })) })
      await tx.wish.createMany({
        data: plan.wishes.map(([recipe, pack, atLeast, about, atMost, matters]) => ({
          coopId,
          planId,
          recipeId: idOf(recipeIds, recipe),
          pack,
          atLeast,
          about,
          atMost,
          matters,
        })),
      })
      return { planId }
    },
    { timeout: 60_000, maxWait: 60_000 },
  )
}

function totalGrams(lot: (typeof lots)[number]): number {
  const { firm, ripe, soft, damaged } = lot.grams
  return firm + ripe + soft + damaged + lot.setAsideGrams + lot.lostGrams
}

function idOf(ids: Map<string, string>, name: string): string {
  const id = ids.get(name)
  if (id === undefined) throw new RangeError(`the demonstration names "${name}" and does not have it`)
  return id
}

function at(ids: string[], number: number): string {
  const id = ids[number]
  if (id === undefined) throw new RangeError(`the demonstration has no number ${number}`)
  return id
}
