import glpkModule, { type GLPK } from 'glpk.js/node'
import type { AllocationProblem } from '../../../src/core/allocation/index.ts'

// An independent model for small problems, item by item in fractions of a gram, with yes-or-no variables for whether a
// batch is made at all, each helper's minutes by kind of work, and another solver (GLPK, in tests only).
// Nothing here is shared with the service's formulation.

type Vars = { name: string; coef: number }[]

let loaded: Promise<GLPK> | null = null
const loadGlpk = (
  typeof glpkModule === 'function' ? glpkModule : (glpkModule as { default: unknown }).default
) as () => Promise<GLPK>

/** The best worth there is, to GLPK's exactness; null if it did not prove it in 10 s. */
export async function referenceOptimum(problem: AllocationProblem): Promise<number | null> {
  loaded ??= loadGlpk()
  const glpk = await loaded
  const objective: Vars = []
  const rows: { name: string; vars: Vars; bnds: { type: number; lb: number; ub: number } }[] = []
  const bounds: { name: string; type: number; lb: number; ub: number }[] = []
  const generals: string[] = []
  const binaries: string[] = []
  const row = (vars: Vars, lb: number, ub: number) => {
    if (vars.length === 0) return
    const type = lb === ub ? glpk.GLP_FX : lb === -Infinity ? glpk.GLP_UP : ub === Infinity ? glpk.GLP_LO : glpk.GLP_DB
    rows.push({
      name: `r${rows.length}`,
      vars,
      bnds: { type, lb: Number.isFinite(lb) ? lb : 0, ub: Number.isFinite(ub) ? ub : 0 },
    })
  }
  const variable = (name: string, worth: number, ub: number) => {
    objective.push({ name, coef: worth })
    bounds.push({
      name,
      type: Number.isFinite(ub) ? (ub === 0 ? glpk.GLP_FX : glpk.GLP_DB) : glpk.GLP_LO,
      lb: 0,
      ub: Number.isFinite(ub) ? ub : 0,
    })
    return name
  }
  const dates = problem.days.map((day) => Date.parse(day) / 86_400_000)
  const itemVars = new Map<string, Vars>(problem.items.map(({ id }) => [id, []]))
  const stockVars = new Map<string, Vars>()
  const stock = (material: string, day: number) => {
    const key = `${material}@${day}`
    const vars = stockVars.get(key) ?? []
    stockVars.set(key, vars)
    return vars
  }
  const machineVars = new Map<string, Vars>()
  const workVars = new Map<string, Vars>()
  const roomVars = new Map<string, Vars>()
  const supplyVars = new Map<string, Vars>()
  const into = (map: Map<string, Vars>, key: string, name: string, coef: number) => {
    if (coef !== 0) map.set(key, [...(map.get(key) ?? []), { name, coef }])
  }

  for (const product of problem.products) {
    const { wish } = product
    const total: Vars = []
    problem.days.forEach((_, day) => {
      if (product.onDays && !product.onDays.includes(day)) return
      const units = variable(
        `u_${product.id}_${day}`,
        0,
        Math.min(wish.atMost, product.atMostByDay?.[day] ?? wish.atMost),
      )
      generals.push(units)
      total.push({ name: units, coef: 1 })
      const parts = product.inputs.map((input): Vars => {
        const vars: Vars = []
        const { from } = input
        if ('crop' in from) {
          for (const item of problem.items) {
            const ripeness = item.classByDay[day]
            const suit = ripeness && item.crop === from.crop ? input.suits[ripeness] : undefined
            if (!ripeness || !suit) continue
            const name = variable(
              `x_${item.id}_${product.id}_${day}`,
              (-wish.worth * (1 - suit)) / product.gramsPerUnit,
              item.grams,
            )
            vars.push({ name, coef: 1 })
            itemVars.get(item.id)?.push({ name, coef: 1 })
            for (const trim of input.trim) {
              stock(trim.materialId, day).push({ name, coef: -(trim.shareByClass?.[ripeness] ?? trim.share) })
            }
          }
        } else {
          const material = problem.materials.find(({ id }) => id === from.materialId)
          if (!material) return vars
          dates.forEach((date, madeOn) => {
            const wait = (dates[day] ?? 0) - date
            if (madeOn > day || wait < material.readyAfterDays || wait > material.keepsDays) return
            const name = variable(`y_${material.id}_${madeOn}_${product.id}_${day}`, 0, Infinity)
            vars.push({ name, coef: 1 })
            stock(material.id, madeOn).push({ name, coef: 1 })
            for (const trim of input.trim) stock(trim.materialId, day).push({ name, coef: -trim.share })
          })
        }
        return vars
      })
      row([...parts.flat(), { name: units, coef: -product.gramsPerUnit }], 0, 0)
      product.inputs.forEach((input, i) => {
        const share = (part: number) => ({ name: units, coef: -part * product.gramsPerUnit })
        row([...(parts[i] ?? []), share(input.share.min)], 0, Infinity)
        row([...(parts[i] ?? []), share(input.share.max)], -Infinity, 0)
      })
      for (const made of product.makes) stock(made.materialId, day).push({ name: units, coef: -made.gramsPerUnit })
      product.runs.forEach((run, r) => {
        const starts = variable(`n_${product.id}_${day}_${r}`, 0, Infinity)
        const any = variable(`z_${product.id}_${day}_${r}`, 0, 1)
        generals.push(starts)
        binaries.push(any)
        row(
          [
            { name: units, coef: 1 },
            { name: starts, coef: -run.unitsPerRun },
          ],
          -Infinity,
          0,
        )
        // units >= units a run * (starts - 1) + what the last must hold, if any is made; none is made without `any`.
        const held = Math.max(1, Math.ceil(run.fillAtLeast * run.unitsPerRun - 1e-9))
        row(
          [
            { name: units, coef: 1 },
            { name: starts, coef: -run.unitsPerRun },
            { name: any, coef: run.unitsPerRun - held },
          ],
          0,
          Infinity,
        )
        row(
          [
            { name: units, coef: 1 },
            { name: any, coef: -wish.atMost },
          ],
          -Infinity,
          0,
        )
        for (const [id, minutes] of Object.entries(run.machineMinutes))
          into(machineVars, `${id}@${day}`, starts, minutes)
        for (const [skill, minutes] of Object.entries(run.work)) into(workVars, `${skill}@${day}`, starts, minutes)
      })
      for (const [id, minutes] of Object.entries(product.machineMinutesPerUnit))
        into(machineVars, `${id}@${day}`, units, minutes)
      const work = new Map<string, number>()
      for (const [skill, minutes] of Object.entries(product.workPerUnit))
        work.set(skill, (work.get(skill) ?? 0) + minutes)
      for (const [skill, minutes] of Object.entries(product.workPerKg)) {
        work.set(skill, (work.get(skill) ?? 0) + (minutes * product.gramsPerUnit) / 1000)
      }
      for (const [skill, minutes] of work) into(workVars, `${skill}@${day}`, units, minutes)
      for (const [id, ml] of Object.entries(product.roomMlPerUnit)) into(roomVars, id, units, ml)
      for (const [id, each] of Object.entries(product.supplies)) into(supplyVars, id, units, each)
    })
    const full = variable(`full_${product.id}`, wish.worth, wish.about)
    const beyond = variable(`beyond_${product.id}`, wish.worthBeyond, wish.atMost - wish.about)
    const missing = variable(`missing_${product.id}`, -wish.shortfallWorth, Infinity)
    row([...total, { name: full, coef: -1 }, { name: beyond, coef: -1 }], 0, 0)
    row([...total, { name: missing, coef: 1 }], wish.atLeast, Infinity)
  }
  for (const machine of problem.machines) {
    machine.minutesByDay.forEach((minutes, day) => {
      row(machineVars.get(`${machine.id}@${day}`) ?? [], -Infinity, minutes)
    })
  }
  problem.days.forEach((_, day) => {
    const given = new Map<string, Vars>()
    problem.workers.forEach((worker, w) => {
      const own: Vars = worker.skills.map((skill) => ({
        name: variable(`w_${w}_${skill}_${day}`, 0, Infinity),
        coef: 1,
      }))
      worker.skills.forEach((skill, s) => {
        const name = own[s]?.name
        if (name) given.set(skill, [...(given.get(skill) ?? []), { name, coef: -1 }])
      })
      row(own, -Infinity, worker.minutesByDay[day] ?? 0)
    })
    for (const [key, vars] of workVars) {
      const [skill, on] = key.split('@')
      if (Number(on) === day && skill) row([...vars, ...(given.get(skill) ?? [])], -Infinity, 0)
    }
  })
  for (const room of problem.rooms) row(roomVars.get(room.id) ?? [], -Infinity, room.ml)
  const packs: Vars = []
  for (const supply of problem.supplies) {
    const name = variable(`packs_${supply.id}`, -supply.packPrice, supply.packsAtMost)
    generals.push(name)
    packs.push({ name, coef: supply.packPrice })
    row([...(supplyVars.get(supply.id) ?? []), { name, coef: -supply.packSize }], -Infinity, supply.onHand)
  }
  if (problem.budget !== null)
    row(
      packs.filter(({ coef }) => coef > 0),
      -Infinity,
      problem.budget,
    )
  const outletVars = problem.outlets.map((): Vars => [])
  for (const item of problem.items) {
    const vars = itemVars.get(item.id) ?? []
    problem.outlets.forEach((outlet, o) => {
      const takes = outlet.takesProduce
      if (!takes || (takes.crops.length > 0 && !takes.crops.includes(item.crop))) return
      if (!item.classByDay.some((ripeness) => ripeness && takes.classes.includes(ripeness))) return
      const name = variable(`o_${o}_${item.id}`, outlet.worthPerKg / 1000, Infinity)
      outletVars[o]?.push({ name, coef: 1 })
      vars.push({ name, coef: 1 })
    })
    if (item.keepWorthPerKg !== null)
      vars.push({ name: variable(`keep_${item.id}`, item.keepWorthPerKg / 1000, Infinity), coef: 1 })
    vars.push({ name: variable(`lost_${item.id}`, -problem.spoilagePerKg / 1000, Infinity), coef: 1 })
    row(vars, item.grams, item.grams)
  }
  for (const [key, vars] of stockVars) {
    const material = problem.materials.find(({ id }) => id === key.split('@')[0])
    problem.outlets.forEach((outlet, o) => {
      if (!material || !outlet.takesMaterials.includes(material.id)) return
      const name = variable(`o_${o}_${key}`, outlet.worthPerKg / 1000, Infinity)
      outletVars[o]?.push({ name, coef: 1 })
      vars.push({ name, coef: 1 })
    })
    const cost = material?.kind === 'intermediate' ? problem.spoilagePerKg / 1000 : 0
    vars.push({ name: variable(`lost_${key}`, -cost, Infinity), coef: 1 })
    row(vars, 0, 0)
  }
  problem.outlets.forEach((outlet, o) => {
    if (outlet.capacityGrams !== null) row(outletVars[o] ?? [], -Infinity, outlet.capacityGrams)
  })
  const answer = glpk.solve(
    {
      name: 'reference',
      objective: { direction: glpk.GLP_MAX, name: 'worth', vars: objective },
      subjectTo: rows,
      bounds,
      generals,
      binaries,
    },
    { msglev: glpk.GLP_MSG_OFF, presol: true, tmlim: 10, mipgap: 0 },
  )
  return answer.result.status === glpk.GLP_OPT ? answer.result.z : null
}
