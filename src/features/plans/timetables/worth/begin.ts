import { helpsFor, standingOf } from '../../../../core/agreement/index.ts'
import type { AllocationResult } from '../../../../core/allocation/index.ts'
import { checkAllocation } from '../../../../core/allocation/index.ts'
import { type Timetable, timetableOf } from '../../../../core/day/index.ts'
import { askDivision, productId, type Question } from '../../../../core/division/index.ts'
import type { WorkKind } from '../../../../core/produce/vocabulary.ts'
import type { WorkedOut } from '../../../../jobs/timetable.ts'
import type { WorthAnswer } from './documents.ts'

/**
 * What a timetable is compared by and what there is to try for it, nothing tried yet.
 *
 * @throws Error where the division breaks its own question, or makes other units than the timetable
 */
export function beginning(question: Question, result: AllocationResult, worked: WorkedOut): WorthAnswer {
  const [violation] = checkAllocation(askDivision(question), result)
  if (violation) throw new Error(`a division breaks ${violation.rule}: ${violation.detail}`)
  demandSameUnits(result, worked)
  const timetable = timetableOf(worked.plan, worked.schedule)
  return {
    before: standingOf({ result, kitchen: worked.plan.kitchen, timetable, holds: worked.holds }),
    candidates: helpsFor(question, minutesOfWork(worked, timetable)),
    tries: [],
  }
}

function demandSameUnits({ batches }: AllocationResult, { plan }: WorkedOut): void {
  const leftOut = new Set(plan.impossible.map(({ batch }) => batch))
  const divided = batches
    .map((one) => ({ id: `${one.productId}@${one.day}`, units: one.units }))
    .filter(({ id, units }) => units > 0 && !leftOut.has(id))
  const planned = plan.batches.map(({ batch }) => ({
    id: `${productId(batch.recipeId, batch.pack)}@${batch.day}`,
    units: batch.units,
  }))
  const words = (all: { id: string; units: number }[]) => all.map(({ id, units }) => `${id} ${units}`).sort()
  const [a, b] = [words(divided), words(planned)]
  if (a.join() !== b.join()) throw new Error(`a division makes ${a.join(', ')}, its timetable ${b.join(', ')}`)
}

function minutesOfWork({ plan }: WorkedOut, { entries }: Timetable): Partial<Record<WorkKind, number>> {
  const steps = new Map(plan.batches.map((one) => [one.batch.id, one.steps]))
  const minutes: Partial<Record<WorkKind, number>> = {}
  for (const { batch, step, helpers, from, to } of entries) {
    const work = batch === null || step === null ? null : steps.get(batch)?.[step]?.step.work
    if (work) minutes[work] = (minutes[work] ?? 0) + helpers.length * (to - from)
  }
  return minutes
}
