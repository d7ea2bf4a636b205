import { batchesOf, type Batch as PlannedOfDay } from '../../core/day/batch.ts'
import { askDivision, type DivisionSummary, productId, type Question, summarise } from '../../core/division/index.ts'
import { type RipenessClass, type TrimKind, trimKinds } from '../../core/produce/index.ts'
import type { RecipeInput } from '../../core/recipes/index.ts'
import type { TransactionClient } from '../../db/transaction.ts'
import { conflict, notFound } from '../../errors.ts'
import type { Asking } from '../../web/asking.ts'
import { findDivision, listDivisions } from '../plans/divisions/queries.ts'
import { findPlan } from '../plans/queries.ts'
import { batchPath } from './paths.ts'
import { finishedOfPlan } from './queries.ts'

/** A batch as a plan's newest division has it. Whole grams. */
export type PlannedBatch = {
  /** "recipe:pack@day" */
  id: string
  /** When its division was asked for: what was finished later carries it out. */
  since: Date
  recipeId: string
  recipe: string
  pack: string
  unit: string
  unitsName: string
  date: string
  units: number
  grams: number
  lots: { lotId: string; class: RipenessClass; grams: number }[]
  trim: { kind: TrimKind; grams: number; outletId: string | null }[]
}

export type PlannedBatches = {
  planId: string
  plan: string
  /** Number of the division; null: none was worked out yet. */
  division: number | null
  open: PlannedBatch[]
  finished: { planned: string; batchId: string; code: string; product: string }[]
}

/** The batches of a plan's newest division that was worked out: what is still to be made, and what was finished since. */
export async function plannedBatches(
  prisma: TransactionClient,
  asking: Asking,
  planId: string,
): Promise<PlannedBatches> {
  const { name: plan } = await findPlan(prisma, asking, planId)
  const newest = (await listDivisions(prisma, asking, [planId], 0)).find(({ state }) => state === 'done')
  if (newest === undefined) return { planId, plan, division: null, open: [], finished: [] }
  const { question, answer, startedAt } = await findDivision(prisma, asking, planId, newest.number)
  // An older division's batches are of that one: what is divided now is what they left.
  const finished = await finishedOfPlan(prisma, asking, planId, startedAt)
  const done = new Set(finished.map(({ planned }) => planned))
  const summary = answer === null ? null : summarise(question, askDivision(question), answer.result)
  const all =
    summary === null
      ? []
      : batchesOf(question, summary).map((one) => ({ ...toPlanned(one, question, summary), since: startedAt }))
  return { planId, plan, division: newest.number, open: all.filter(({ id }) => !done.has(id)), finished }
}

/** One of them that is still to be made; conflict where it was finished, not-found for any other. */
export async function plannedBatch(
  prisma: TransactionClient,
  asking: Asking,
  { planId, planned }: { planId: string; planned: string },
): Promise<PlannedBatch> {
  const { open, finished } = await plannedBatches(prisma, asking, planId)
  refuseFinished(planned, finished)
  const found = open.find(({ id }) => id === planned)
  if (found === undefined) throw notFound('such batch to be finished in that plan')
  return found
}

/** Throws a conflict that leads to the batch which carried this one out. */
export function refuseFinished(planned: string, finished: PlannedBatches['finished']): void {
  const one = finished.find((batch) => batch.planned === planned)
  if (one === undefined) return
  throw conflict(`This batch was finished already: it is ${one.code}.`, {
    href: batchPath(one.batchId),
    text: 'See that batch',
  })
}

function toPlanned(batch: PlannedOfDay, question: Question, summary: DivisionSummary): Omit<PlannedBatch, 'since'> {
  const { id, recipe, pack, day, units, grams } = batch
  const product = productId(recipe.id, pack.key)
  const lots = summary.lots.flatMap(({ lotId, uses }) =>
    uses
      .filter((use) => use.day === day && use.productId === product)
      .map((use) => ({ lotId, class: use.ripeness, grams: use.grams })),
  )
  const trimmed = new Map<TrimKind, number>()
  for (const { lotId, class: ripeness, grams: used } of lots) {
    const crop = question.lots.find((lot) => lot.id === lotId)?.crop
    const input = recipe.definition.inputs.find(({ from }) => 'crop' in from && from.crop === crop)
    for (const { kind, share } of trimOf(input, ripeness)) trimmed.set(kind, (trimmed.get(kind) ?? 0) + used * share)
  }
  return {
    id,
    recipeId: recipe.id,
    recipe: recipe.name,
    pack: pack.key,
    unit: pack.unit,
    unitsName: pack.units,
    date: question.days[day]?.date ?? question.askedOn,
    units,
    grams,
    lots,
    trim: trimKinds.flatMap((kind) => {
      const exact = Math.round(trimmed.get(kind) ?? 0)
      return exact === 0 ? [] : [{ kind, grams: exact, outletId: outletOf(kind, summary) }]
    }),
  }
}

function trimOf(input: RecipeInput | undefined, ripeness: RipenessClass): { kind: TrimKind; share: number }[] {
  return (input?.trim ?? []).map(({ kind, share, shareByClass }) => ({
    kind,
    share: shareByClass?.[ripeness] ?? share,
  }))
}

/** The outlet that gets most of what is left over of a trim; null: it is used up, kept or lost. */
function outletOf(kind: TrimKind, { materials }: DivisionSummary): string | null {
  const leftovers = materials.find(({ materialId }) => materialId === kind)?.leftovers ?? []
  const [most] = [...leftovers].sort((a, b) => b.grams - a.grams)
  return most !== undefined && typeof most.to === 'object' ? most.to.outletId : null
}
