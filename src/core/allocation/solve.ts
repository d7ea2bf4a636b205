import { at } from './arrays.ts'
import { assemble, type Division, unitsOf } from './assemble.ts'
import { type Draft, slot } from './draft.ts'
import { explain } from './explain.ts'
import { bestGainDraft, firstComeDraft } from './greedy.ts'
import { type Guide, guideOf } from './guided.ts'
import { cyclesFor, type Kitchen, kitchenOf } from './kitchen.ts'
import { knownDraft } from './known.ts'
import type { BuiltModel } from './model/builder.ts'
import { type Formulation, formulate } from './model/formulate.ts'
import { highsRuntime, type MipAnswer, type MipOptions, solveMip, solveRelaxation } from './model/highs.ts'
import type { AllocationProblem, SolveOptions } from './problem.ts'
import { checkProblem, ProblemRefused } from './refuse.ts'
import { repairGrams } from './repair.ts'
import type { AllocationResult } from './result.ts'

/** Relative gap that counts as proved. */
export const provedGap = 1e-6

/**
 * Tearing out and filling up: rounds at most, and the part of the time limit by which it ends before the search proper;
 * that ends in time for as much again on what it found, unless it has proved it.
 */
const roundsAtMost = 1000
const rebuildUntil = 0.2
const searchUntil = 0.9

/**
 * Above so many batches that are possible, and if time is short, the search leaves the units of a batch fractional (runs
 * and totals stay whole), which bounds and finds much more in the same time; whole units around what it found are
 * searched afterwards, from this part of the time limit on.
 */
const looseAbove = 100
const looseUntil = 0.7
const wholeUnitsGap = 5e-4

/**
 * Divides the produce. Starts from the better of the plain rules, so that there is an answer at any time, and lets HiGHS
 * improve and bound it. Refuses with `ProblemRefused` what `checkProblem` refuses; whatever else goes wrong with the
 * solver gives the best division found without it, with status `fallback` and `trouble` saying why.
 * Blocks its thread while it solves. The same problem gives the same division unless the time limit cuts it short.
 */
export async function solveAllocation(
  problem: AllocationProblem,
  options: SolveOptions = {},
): Promise<AllocationResult> {
  return solveFrom(problem, null, options)
}

/** The same, starting also from the batches of a division that is known (of this problem or of one like it). */
export async function solveFrom(
  problem: AllocationProblem,
  known: Pick<AllocationResult, 'batches'> | null,
  options: SolveOptions = {},
): Promise<AllocationResult> {
  const refusals = checkProblem(problem)
  if (refusals.length > 0) throw new ProblemRefused(refusals)
  const now = options.now ?? (() => 0)
  const began = now()
  const kitchen = kitchenOf(problem)
  let best = bestOf(kitchen, [
    bestGainDraft(kitchen),
    firstComeDraft(kitchen),
    ...(known ? [knownDraft(kitchen, known)] : []),
  ])
  let trouble: string | undefined
  let answer: MipAnswer | null = null
  let bound = Number.POSITIVE_INFINITY
  let rounding = 0
  try {
    const formulation = formulate(kitchen)
    const highs = await highsRuntime()
    const relaxation = solveRelaxation(highs, formulation.model)
    const timeUsed = () => (now() - began) / (options.timeLimitMs ?? Number.POSITIVE_INFINITY)
    const rebuild = (guide: Guide, seed: number, untilUsed: number) => {
      const rounds = Math.min(roundsAtMost, Math.ceil(best.draft.units.length ** 2 / 15))
      const goOn = (round: number) => {
        report(options, best.division.objective, bound, now() - began)
        return round < rounds && timeUsed() < untilUsed && !options.shouldStop?.()
      }
      best = bestOf(kitchen, [best.draft, guide.rebuild(best.draft, seed, goOn)])
    }
    if (relaxation) bound = relaxation.value * formulation.scale
    const guide = relaxation ? guideOf(kitchen, formulation, relaxation) : null
    if (guide) {
      best = bestOf(kitchen, [best.draft, guide.along()])
      rebuild(guide, 1, rebuildUntil)
    }
    const secondsUntil = (part: number) =>
      ((options.timeLimitMs ?? Number.POSITIVE_INFINITY) * part - (now() - began)) / 1000
    const loose = guide !== null && options.timeLimitMs !== undefined && best.draft.units.length > looseAbove
    const search: MipOptions = {
      timeLimitS: secondsUntil(loose ? looseUntil : searchUntil),
      gap: Math.max((options.gap ?? 0) / (loose ? 2 : 1), provedGap / 2),
      maxNodes: options.maxNodes ?? Number.POSITIVE_INFINITY,
      searchNearRelaxation: loose,
      start: startPoint(kitchen, formulation, best.draft),
      shouldStop: options.shouldStop ?? (() => false),
      onBetter: () => {},
      onLook: (value, looked) => {
        // A point with fractional units is no division yet: what counts is the best that is one.
        const objective = loose ? best.division.objective : Math.max(value * formulation.scale, best.division.objective)
        report(options, objective, Math.min(bound, looked * formulation.scale), now() - began)
      },
    }
    answer = solveMip(highs, loose ? withLooseUnits(formulation) : formulation.model, search)
    if (answer.ended === 'infeasible') throw new Error('the solver calls the model infeasible, which it cannot be')
    bound = Math.min(bound, answer.bound * formulation.scale)
    if (guide && loose && answer.point) {
      best = bestOf(kitchen, [best.draft, guide.along(answer.point)])
      const near = nearPoint(formulation, answer.point)
      const whole = solveMip(highs, near, {
        ...search,
        start: null,
        // The bound of a neighbourhood bounds nothing else.
        onLook: () => report(options, best.division.objective, bound, now() - began),
        gap: wholeUnitsGap,
        timeLimitS: secondsUntil(searchUntil),
      })
      const found = whole.point ? readPoint(kitchen, formulation, whole.point) : null
      if (found) best = bestOf(kitchen, [best.draft, found])
    } else if (answer.point) {
      const found = readPoint(kitchen, formulation, answer.point)
      if (found) best = bestOf(kitchen, [best.draft, found])
      rounding = answer.value * formulation.scale - best.division.objective
    }
    if (guide && answer.ended !== 'stopped' && (loose || answer.ended === 'limit')) rebuild(guide, 2, 1)
  } catch (error) {
    trouble = error instanceof Error ? `${error.name}: ${error.message}` : String(error)
  }
  const { objective } = best.division
  // The bound comes back with the solver's own noise; a bound below the answer by no more than that is the answer.
  if (bound < objective && objective - bound <= provedGap * Math.max(1, Math.abs(objective))) bound = objective
  const gap = (bound - objective) / Math.max(1, Math.abs(objective))
  return {
    ...best.division,
    status: statusOf(
      answer,
      trouble,
      gap,
      roundingAllowed(kitchen, best.draft, rounding) / Math.max(1, Math.abs(objective)),
    ),
    bound,
    gap,
    reasons: explain(kitchen, best.draft),
    elapsedMs: options.now ? now() - began : Math.round((answer?.seconds ?? 0) * 1000),
    ...(trouble === undefined ? {} : { trouble }),
  }
}

type Found = { draft: Draft; division: Division }

function bestOf(kitchen: Kitchen, drafts: Draft[]): Found {
  return drafts
    .map((draft) => ({ draft, division: assemble(kitchen, draft) }))
    .reduce((best, next) => (next.division.objective > best.division.objective ? next : best))
}

function statusOf(
  answer: MipAnswer | null,
  trouble: string | undefined,
  gap: number,
  rounding: number,
): AllocationResult['status'] {
  if (trouble !== undefined || !answer) return 'fallback'
  if (gap <= provedGap + rounding) return 'proved'
  return answer.ended === 'stopped' ? 'stopped' : 'limit'
}

/**
 * How much of the difference to the solver's own point whole grams explain: at most what a gram of each draw and of each
 * leftover can be worth. A larger difference is not rounding and does not count.
 */
function roundingAllowed(kitchen: Kitchen, draft: Draft, difference: number): number {
  const { outlets, spoilagePerKg } = kitchen.problem
  let allowed = 0
  for (const [d, draw] of kitchen.draws.entries()) {
    const { wish, gramsPerUnit } = at(kitchen.makings, draw.making)
    if (at(draft.draws, d) > 0) allowed += (wish.worth * (1 - draw.suit)) / gramsPerUnit
  }
  const dearest = Math.max(
    spoilagePerKg,
    ...outlets.map(({ worthPerKg }) => worthPerKg),
    ...kitchen.pools.map((p) => p.keepWorthPerKg ?? 0),
  )
  allowed +=
    ((kitchen.pools.length + kitchen.problem.materials.length * kitchen.dayCount) * (dearest + spoilagePerKg)) / 1000
  return difference > 0 ? Math.min(difference, allowed) : 0
}

function report(options: SolveOptions, objective: number, bound: number, elapsedMs: number): void {
  const gap = (bound - objective) / Math.max(1, Math.abs(objective))
  options.onProgress?.({ objective, bound, gap, elapsedMs })
}

/** The model with fractional units in a batch. */
function withLooseUnits({ model, columns }: Formulation): BuiltModel {
  const whole = Int32Array.from(model.whole)
  for (const column of columns.units) if (column >= 0) whole[column] = 0
  return { ...model, whole }
}

/** The model with whole units, near a point: no more runs and at most one fewer of each, units a little up or down. */
function nearPoint({ model, columns }: Formulation, point: Float64Array): BuiltModel {
  const lower = Float64Array.from(model.lower)
  const upper = Float64Array.from(model.upper)
  const narrow = (column: number, from: number, to: number) => {
    if (column < 0) return
    lower[column] = Math.max(at(lower, column), from)
    upper[column] = Math.min(at(upper, column), to)
  }
  for (const [batch, starts] of columns.starts.entries()) {
    const units = at(columns.units, batch)
    if (units >= 0) narrow(units, Math.floor(at(point, units)) - 3, Math.ceil(at(point, units)) + 3)
    for (const column of starts) {
      if (column >= 0 && column !== units)
        narrow(column, Math.round(at(point, column)) - 1, Math.round(at(point, column)))
    }
  }
  return { ...model, lower, upper }
}

/** The whole columns of a draft. */
export function startPoint(
  kitchen: Kitchen,
  formulation: Formulation,
  draft: Draft,
): { indices: number[]; values: number[] } {
  const { columns } = formulation
  const values = new Map<number, number>()
  const set = (column: number, value: number) => {
    if (column >= 0) values.set(column, value)
  }
  for (const [m, making] of kitchen.makings.entries()) {
    for (let day = 0; day < kitchen.dayCount; day++) {
      const batch = slot(kitchen, m, day)
      set(at(columns.units, batch), at(draft.units, batch))
      for (const [c, starts] of cyclesFor(making, at(draft.units, batch)).entries())
        set(at(at(columns.starts, batch), c), starts)
    }
    set(at(columns.totals, m), unitsOf(kitchen, draft, m))
  }
  const bought = assemble(kitchen, draft).purchases
  for (const [s, supply] of kitchen.problem.supplies.entries()) {
    set(at(columns.packs, s), bought.find(({ supplyId }) => supplyId === supply.id)?.packs ?? 0)
  }
  const indices = [...values.keys()].sort((a, b) => a - b)
  return { indices, values: indices.map((column) => values.get(column) ?? 0) }
}

/** A point of the model as whole units and grams. */
export function readPoint(kitchen: Kitchen, { columns }: Formulation, point: Float64Array): Draft | null {
  const value = (column: number) => (column < 0 ? 0 : at(point, column))
  return repairGrams(kitchen, {
    units: columns.units.map((column) => Math.round(value(column))),
    drawKg: columns.draws.map(value),
    useKg: columns.uses.map(value),
  })
}
