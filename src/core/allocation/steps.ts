import { at } from './arrays.ts'
import { kitchenOf } from './kitchen.ts'
import { formulate } from './model/formulate.ts'
import { highsRuntime, solveRelaxation } from './model/highs.ts'
import type { AllocationProblem, SolveOptions } from './problem.ts'
import type { AllocationResult, StepWorth } from './result.ts'
import { solveFrom } from './solve.ts'

/** So many limits are asked about: each costs a whole solve. */
const limitsAsked = 4

/**
 * What one more step of the tightest limits would be worth: an hour of a machine or of hands on a day, a tenth more
 * room, one more pack that may be bought.
 *
 * The duals of the relaxation say which limits to ask about (they overstate what a step brings, so their figures are
 * not used); then the whole problem is solved again with the step applied, from the present plan on, with an equal part
 * of the time. A step is told only if it gains more than both gaps together, so that it is no accident of the search.
 * Empty if the relaxation cannot be solved. In descending order of gain.
 */
export async function worthOfSteps(
  problem: AllocationProblem,
  result: AllocationResult,
  options: SolveOptions = {},
): Promise<StepWorth[]> {
  const asked = await tightest(problem)
  const each = options.timeLimitMs === undefined ? {} : { timeLimitMs: options.timeLimitMs / Math.max(1, asked.length) }
  const worths: StepWorth[] = []
  for (const step of asked) {
    if (options.shouldStop?.()) break
    const { onProgress: _untold, ...rest } = options
    const changed = await solveFrom(withStep(problem, step), result, { ...rest, ...each })
    const gain = changed.objective - result.objective
    const gaps = result.bound - result.objective + (changed.bound - changed.objective)
    if (gain > gaps + 1e-6 * Math.max(1, Math.abs(result.objective))) {
      worths.push({ step, gain, unitsChanged: unitsChanged(problem, result, changed) })
    }
  }
  return worths.sort((a, b) => b.gain - a.gain)
}

type Step = StepWorth['step']

/** The steps whose limits the relaxation would pay most for. */
async function tightest(problem: AllocationProblem): Promise<Step[]> {
  const kitchen = kitchenOf(problem)
  const { model } = formulate(kitchen)
  const relaxation = solveRelaxation(await highsRuntime(), model)
  if (!relaxation) return []
  const priced: { step: Step; price: number }[] = []
  const price = (row: string, amount: number, step: Step) => {
    const number = model.rowNames.get(row)
    const dual = number === undefined ? 0 : at(relaxation.rowDuals, number)
    if (dual * amount > 1e-9) priced.push({ step, price: dual * amount })
  }
  const { machines, rooms, supplies } = kitchen.problem
  for (let day = 0; day < kitchen.dayCount; day++) {
    for (const [m, { id }] of machines.entries()) {
      price(`machine ${m} ${day}`, 60, { kind: 'machine', machineId: id, day, minutes: 60 })
    }
    for (const [h, { skills }] of kitchen.handLimits.entries()) {
      // Somebody who can do any one of these kinds of work helps them all; the first stands for them.
      price(`hands ${h} ${day}`, 60, { kind: 'work', skill: at(skills, 0), day, minutes: 60 })
    }
  }
  for (const [r, { id, ml }] of rooms.entries()) {
    const more = Math.max(1000, Math.round(ml / 10 / 1000) * 1000)
    price(`room ${r}`, more / 1000, { kind: 'room', roomId: id, ml: more })
  }
  for (const [s, { id, packSize, packPrice }] of supplies.entries()) {
    // The row's dual is what one more piece is worth; the pack has to be paid for.
    const number = model.rowNames.get(`supply ${s}`)
    const worth = number === undefined ? 0 : at(relaxation.rowDuals, number) * packSize
    if (worth > 1e-9 && packPrice >= 0) priced.push({ step: { kind: 'supply', supplyId: id, packs: 1 }, price: worth })
  }
  const seen = new Set<string>()
  return priced
    .sort((a, b) => b.price - a.price)
    .map(({ step }) => step)
    .filter((step) => !seen.has(JSON.stringify(step)) && seen.add(JSON.stringify(step)))
    .slice(0, limitsAsked)
}

function withStep(problem: AllocationProblem, step: Step): AllocationProblem {
  switch (step.kind) {
    case 'machine':
      return {
        ...problem,
        machines: problem.machines.map((machine) =>
          machine.id === step.machineId
            ? { ...machine, minutesByDay: raised(machine.minutesByDay, step.day, step.minutes) }
            : machine,
        ),
      }
    case 'work': {
      const none = problem.days.map(() => 0)
      const helper = {
        id: '+',
        name: 'One more',
        skills: [step.skill],
        minutesByDay: raised(none, step.day, step.minutes),
      }
      return { ...problem, workers: [...problem.workers, helper] }
    }
    case 'room':
      return {
        ...problem,
        rooms: problem.rooms.map((room) => (room.id === step.roomId ? { ...room, ml: room.ml + step.ml } : room)),
      }
    case 'supply':
      return {
        ...problem,
        supplies: problem.supplies.map((supply) =>
          supply.id === step.supplyId ? { ...supply, packsAtMost: supply.packsAtMost + step.packs } : supply,
        ),
      }
  }
}

function raised(minutesByDay: number[], day: number, minutes: number): number[] {
  return minutesByDay.map((there, d) => (d === day ? there + minutes : there))
}

function unitsChanged(
  problem: AllocationProblem,
  before: AllocationResult,
  after: AllocationResult,
): StepWorth['unitsChanged'] {
  const units = (result: AllocationResult, id: string) =>
    result.batches.reduce((total, batch) => (batch.productId === id ? total + batch.units : total), 0)
  return problem.products
    .map(({ id }) => ({ productId: id, units: units(after, id) - units(before, id) }))
    .filter((change) => change.units !== 0)
    .sort((a, b) => (a.productId < b.productId ? -1 : 1))
}
