import type { Activity, Resource } from '../scheduling/problem.ts'
import { partsEach } from './burners.ts'
import type { Edit, RefusedEdit } from './edits.ts'
import { minutesOfADay } from './kitchen.ts'
import { calendarOf, type Editable, isMinute, pinOf } from './pins.ts'
import { cutOut, type Window } from './windows.ts'

/** Outweighs what is late in a day, in minutes: what blocks a machine stays where it is. Our choice. */
export const heavy = 1000

/** The plan without so many machines of a kind for a stretch; how, is told at `applyEdits`. */
export function out<P extends Editable>(plan: P, edit: Edit & { kind: 'out' }): P | RefusedEdit['because'] {
  const resource = plan.problem.resources.find(({ id }) => id === edit.machine)
  if (!resource || !(Number.isInteger(edit.count) && edit.count >= 1)) return 'no-such-machine'
  // Burners are counted in parts where canners share them.
  const units = edit.count * partsEach(plan.kitchen.machines, edit.machine)
  const hole = { from: edit.from, to: Math.min(edit.to, plan.beyond) }
  if (!isMinute(edit.from) || !isMinute(edit.to) || hole.to <= hole.from) return 'outside-hours'
  // A block must lie within one window of what it holds.
  const pieces = cutOut([hole], cutOut([hole], calendarOf(plan, resource)))
  if (pieces.length === 0) return 'outside-hours'
  return pieces
    .flatMap((piece) => evenParts(plan, edit.machine, piece))
    .reduce((made, part) => fewer(made, edit.machine, units, part), plan)
}

/** Parts of a stretch in which the same blocks hold machines of a kind and the same day's count holds. */
function evenParts(plan: Editable, kind: string, { from, to }: Window): Window[] {
  const marks = [
    ...blocksOf(plan, kind).flatMap(({ earliest = 0, due = 0 }) => [earliest, due]),
    ...plan.kitchen.days.flatMap(({ midnight }) => [midnight, midnight + minutesOfADay]),
  ].filter((minute) => from < minute && minute < to)
  const bounds = [...new Set([from, ...marks, to])].sort((a, b) => a - b)
  return bounds.slice(1).map((end, place) => ({ from: bounds[place] ?? from, to: end }))
}

function blocksOf({ problem }: Editable, kind: string): Activity[] {
  return problem.activities.filter(({ id, phases }) => id.startsWith('out:') && phases[0]?.resources?.[kind])
}

function fewer<P extends Editable>(plan: P, kind: string, count: number, part: Window): P {
  const day = plan.kitchen.days.findIndex(
    ({ midnight }) => midnight <= part.from && part.from < midnight + minutesOfADay,
  )
  const held = plan.problem.resources.filter(({ id }) => id === kind || id === `${kind}@${day}`)
  const there = Math.min(...held.map(({ capacity }) => capacity))
  const gone = blocksOf(plan, kind)
    .filter(({ earliest = 0, due = 0 }) => earliest < part.to && part.from < due)
    .reduce((sum, { phases }) => sum + (phases[0]?.resources?.[kind] ?? 0), 0)
  return gone + count >= there ? without(plan, kind, part) : blocked(plan, held, count, part)
}

/** None of a kind: what blocked some of them meanwhile is cut too, as a calendar would drive it out. */
function without<P extends Editable>(plan: P, kind: string, hole: Window): P {
  const blocks = blocksOf(plan, kind).filter(({ earliest = 0, due = 0 }) => earliest < hole.to && hole.from < due)
  const resources = plan.problem.resources.map((one) =>
    one.id === kind ? { ...one, calendar: cutOut(calendarOf(plan, one), [hole]) } : one,
  )
  const activities = plan.problem.activities.filter((one) => !blocks.includes(one))
  return blocks.reduce(
    (made, { phases, earliest = 0, due = 0 }) => {
      const units = phases[0]?.resources ?? {}
      const held = resources.filter(({ id }) => Object.hasOwn(units, id) && !id.startsWith('pin@'))
      const rest = cutOut([{ from: earliest, to: due }], [hole])
      return rest.reduce((one, part) => blocked(one, held, units[kind] ?? 0, part), made)
    },
    { ...plan, problem: { ...plan.problem, resources, activities } },
  )
}

function blocked<P extends Editable>(plan: P, held: readonly Resource[], count: number, { from, to }: Window): P {
  const { activities, resources } = plan.problem
  // Pins stay when a block goes, so that no number comes twice.
  const pin = `pin@out:${resources.filter((one) => one.id.startsWith('pin@out:')).length + 1}`
  const minutes = to - from
  const units = Object.fromEntries([...held.map(({ id }) => [id, count]), [pin, 1]])
  const block: Activity = {
    id: pin.slice('pin@'.length),
    phases: [{ minutes, resources: units }],
    earliest: from,
    due: to,
    weight: heavy,
  }
  return {
    ...plan,
    problem: {
      ...plan.problem,
      resources: [...resources, pinOf(plan, pin, from, minutes)],
      activities: [...activities, block],
    },
  }
}
