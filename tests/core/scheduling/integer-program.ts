import glpkModule, { type GLPK } from 'glpk.js/node'
import type { Activity, SchedulingProblem } from '../../../src/core/scheduling/problem.ts'

// A second model of scheduling for small problems without people, by another method and another solver (GLPK, in tests
// only): one yes-or-no variable for each activity and minute at which it might start (Pritsker, Watters, Wolfe 1969, with
// the precedence rows of Christofides, Alvarez-Valdes, Tamarit 1987; both from memory). It shares nothing with the engine.

type Vars = { name: string; coef: number }[]

let loaded: Promise<GLPK> | null = null
const loadGlpk = (
  typeof glpkModule === 'function' ? glpkModule : (glpkModule as { default: unknown }).default
) as () => Promise<GLPK>

const finish = 'all is done'

/**
 * The least makespan of a problem, in minutes, among all schedules that end by minute `most`; null if GLPK proves that
 * there is none. Throws if GLPK comes to no proof in 20 s.
 */
export async function leastMakespan({ resources, activities }: SchedulingProblem, most: number) {
  loaded ??= loadGlpk()
  const glpk = await loaded
  const all: Activity[] = [...activities, { id: finish, phases: [], after: activities.map(({ id }) => ({ id })) }]
  const starts = new Map(all.map((one) => [one.id, possibleStarts(one, resources, most)]))
  const name = (id: string, minute: number) => `${id} at ${minute}`
  const startsIn = (id: string, from: number, to: number, coef: number): Vars =>
    (starts.get(id) ?? []).filter((minute) => from <= minute && minute <= to).map((m) => ({ name: name(id, m), coef }))
  const rows: { name: string; vars: Vars; bnds: { type: number; lb: number; ub: number } }[] = []
  const row = (vars: Vars, type: number, bound: number) => {
    rows.push({ name: `row ${rows.length}`, vars, bnds: { type, lb: bound, ub: bound } })
  }

  for (const activity of all) {
    // Without any minute left to start at there is nothing to solve.
    if (starts.get(activity.id)?.length === 0) return null
    row(startsIn(activity.id, 0, most, 1), glpk.GLP_FX, 1)
    for (const { id, lag = 0 } of activity.after ?? []) {
      const before = all.find((one) => one.id === id)
      if (!before) throw new Error(`nothing is called ${id}`)
      // Whatever starts at or after a minute keeps its successor from starting before it has ended and the lag is over.
      for (let minute = 0; minute <= most; minute++) {
        const later = startsIn(id, minute, most, 1)
        const tooSoon = startsIn(activity.id, 0, minute + lengthOf(before) + lag - 1, 1)
        if (later.length > 0 && tooSoon.length > 0) row([...later, ...tooSoon], glpk.GLP_UP, 1)
      }
    }
  }
  for (const { id, capacity } of resources)
    for (let minute = 0; minute < most; minute++) {
      const held = activities.flatMap((activity) =>
        (starts.get(activity.id) ?? []).flatMap((start) => {
          const coef = heldAt(activity, id, minute - start)
          return coef > 0 ? [{ name: name(activity.id, start), coef }] : []
        }),
      )
      if (held.length > 0) row(held, glpk.GLP_UP, capacity)
    }
  const answer = glpk.solve(
    {
      name: 'schedule',
      objective: {
        direction: glpk.GLP_MIN,
        name: 'makespan',
        vars: (starts.get(finish) ?? []).map((minute) => ({ name: name(finish, minute), coef: minute })),
      },
      subjectTo: rows,
      binaries: all.flatMap(({ id }) => (starts.get(id) ?? []).map((minute) => name(id, minute))),
    },
    { msglev: glpk.GLP_MSG_OFF, presol: true, tmlim: 20, mipgap: 0 },
  )
  const { status, z } = answer.result
  if (status === glpk.GLP_OPT) return Math.round(z)
  if (status === glpk.GLP_NOFEAS || status === glpk.GLP_INFEAS) return null
  throw new Error(`GLPK came to no proof (status ${status})`)
}

function lengthOf({ phases }: Pick<Activity, 'phases'>): number {
  return phases.reduce((sum, { minutes }) => sum + minutes, 0)
}

/** Minutes at which an activity may start by its earliest start, the end of all and the windows of what it holds. */
function possibleStarts(activity: Activity, resources: SchedulingProblem['resources'], most: number): number[] {
  const minutes = Array.from({ length: Math.max(0, most - lengthOf(activity) + 1) }, (_, minute) => minute)
  return minutes.filter((start) => {
    if (start < (activity.earliest ?? 0)) return false
    let from = start
    return activity.phases.every((phase) => {
      const to = from + phase.minutes
      const fits = resources.every(
        ({ id, calendar }) =>
          !calendar ||
          phase.minutes === 0 ||
          !phase.resources?.[id] ||
          calendar.some((window) => window.from <= from && to <= window.to),
      )
      from = to
      return fits
    })
  })
}

/** Units of a resource that an activity holds so many minutes after its start. */
function heldAt({ phases }: Activity, resource: string, after: number): number {
  let from = 0
  for (const phase of phases) {
    if (from <= after && after < from + phase.minutes) return phase.resources?.[resource] ?? 0
    from += phase.minutes
  }
  return 0
}
