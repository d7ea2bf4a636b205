import type {
  AllocationProblem,
  Item,
  Machine,
  Material,
  Outlet,
  Product,
  Room,
  Supply,
  Worker,
} from '../allocation/problem.ts'
import { allowedSkills } from '../day/age-rules.ts'
import { burnerParts, burnersOf } from '../day/burners.ts'
import { cutOut, lengthOf } from '../day/windows.ts'
import { ageLot, crop, dateAfter, daysBetween, mergeBySignature } from '../produce/index.ts'
import { type EquipmentKind, equipmentKinds, trimKinds } from '../produce/vocabulary.ts'
import { countedSupplies } from '../recipes/pack-supplies.ts'
import type { Pack, PackRun, Recipe } from '../recipes/recipe.ts'
import type { HelperAtHand, KitchenDay, LotToDivide, OpenOutlet, Question, WishFor } from './question.ts'

/** What a unit is worth at each weight of a wish, as a factor on the pack's own worth. Our choice, no source. */
const worthFactor = { 1: 0.5, 2: 1, 3: 2 } as const
/** Worth of a unit beyond what was wished "about", as a part of its full worth. Our choice. */
const beyondFactor = 0.4
/** What a unit missing from "at least" costs, in units' worth: so much that only physics lets one be missing. Our choice. */
const shortfallFactor = 3
/** Minor units that a lost kilogram costs. Our choice: about the price of the cheapest produce. */
const spoilagePerKg = 50
const minutesOfADay = 24 * 60

const trimNames = { 'peels-cores': 'peels and cores', pomace: 'pomace', 'stones-stems': 'stones and stems' } as const

/**
 * Builds the solver's problem from a plan's question. Every lot is aged to each work day in whole grams; helpers with
 * the same skills are counted together; equipment of one kind is counted together; what a recipe names and the kitchen
 * does not have is there with nothing available, so that the answer can say so.
 *
 * Throws RangeError for a crop it does not know; otherwise the question comes from checked forms, and `checkProblem`
 * looks at the result before it is solved.
 */
export function askDivision(question: Question): AllocationProblem {
  const wished = wishedPacks(question)
  const materials = collectMaterials(wished)
  return {
    days: question.days.map((day) => day.date),
    items: question.lots.flatMap((lot) => itemsOf(lot, question)),
    materials,
    products: wished.map((one) => toProduct(one, question)),
    machines: equipmentKinds.filter((kind) => kind !== 'freezer').map((kind) => machineOf(kind, question)),
    workers: workersOf(question),
    rooms: [freezerOf(question)],
    supplies: suppliesOf(question, wished),
    outlets: question.outlets.map((outlet) => outletOf(outlet, materials)),
    budget: question.budgetMinor,
    spoilagePerKg,
  }
}

/** The id of a recipe's pack in the problem and in the answer. */
export function productId(recipeId: string, pack: string): string {
  return `${recipeId}:${pack}`
}

type Wished = { recipe: Recipe; pack: Pack; wish: WishFor }

function wishedPacks(question: Question): Wished[] {
  return question.wishes.flatMap((wish) => {
    const recipe = question.recipes.find((candidate) => candidate.id === wish.recipeId)
    const pack = recipe?.definition.packs.find((candidate) => candidate.key === wish.pack)
    return recipe && pack && wish.atMost > 0 ? [{ recipe, pack, wish }] : []
  })
}

function itemsOf(lot: LotToDivide, question: Question): Item[] {
  const known = crop(lot.crop)
  if (!known) throw new RangeError(`no such crop: ${lot.crop}`)
  const offsets = question.days.map((day) => daysBetween(lot.sortedOn, day.date))
  const arrivedOffset = daysBetween(lot.sortedOn, lot.arrivedOn)
  const askedOffset = daysBetween(lot.sortedOn, question.askedOn)
  const cohorts = ageLot({ crop: known, storage: lot.storage, sortedOn: lot.sortedOn, grams: lot.grams })
  const keepWorth = Math.max(0, ...question.outlets.map((outlet) => outlet.worthPerKgMinor)) + 1
  const lastOffset = offsets.at(-1) ?? 0
  return mergeBySignature(cohorts, [askedOffset, ...offsets])
    .filter((part) => part.grams > 0)
    .map((part) => {
      const [now, ...classByDay] = part.classByDay
      return {
        id: `${lot.id}/${part.id}`,
        lotId: lot.id,
        crop: lot.crop,
        grams: part.grams,
        classByDay: classByDay.map((found, day) => ((offsets[day] ?? 0) < arrivedOffset ? null : found)),
        ...(now && askedOffset >= arrivedOffset ? { now: { date: question.askedOn, class: now } } : {}),
        usableUntil: dateAfter(lot.sortedOn, part.lastDay),
        // What keeps beyond the last work day can still go to any outlet later, so keeping is worth a little more than the best of them.
        keepWorthPerKg: part.lastDay > lastOffset ? keepWorth : null,
      }
    })
}

function collectMaterials(wished: Wished[]): Material[] {
  const trims: Material[] = trimKinds.map((kind) => ({
    id: kind,
    name: trimNames[kind],
    kind: 'trim',
    keepsDays: 1,
    readyAfterDays: 0,
  }))
  const made = new Map<string, Material>()
  for (const { pack } of wished) {
    if (!pack.makes) continue
    const { material, name, keepsDays, readyAfterDays } = pack.makes
    made.set(material, { id: material, name, kind: 'intermediate', keepsDays, readyAfterDays })
  }
  // A recipe may ask for juice that nobody makes this time: the material is there, and there is none of it.
  for (const { recipe } of wished) {
    for (const input of recipe.definition.inputs) {
      if (!('material' in input.from) || made.has(input.from.material)) continue
      if (trims.some((trim) => 'material' in input.from && trim.id === input.from.material)) continue
      const id = input.from.material
      made.set(id, { id, name: id.replaceAll('-', ' '), kind: 'intermediate', keepsDays: 0, readyAfterDays: 0 })
    }
  }
  return [...trims, ...made.values()]
}

function toProduct({ recipe, pack, wish }: Wished, question: Question): Product {
  const atMostByDay = unitsAtMost(productId(recipe.id, pack.key), question)
  const worth = pack.worthMinor * worthFactor[wish.matters]
  return {
    id: productId(recipe.id, pack.key),
    name: recipe.name,
    unit: pack.unit,
    gramsPerUnit: pack.gramsPerUnit,
    inputs: recipe.definition.inputs.map((input) => ({
      from: 'crop' in input.from ? { crop: input.from.crop } : { materialId: input.from.material },
      suits: input.suits,
      share: input.share,
      trim: input.trim.map((trim) => ({
        materialId: trim.kind,
        share: trim.share,
        ...(trim.shareByClass ? { shareByClass: trim.shareByClass } : {}),
      })),
    })),
    makes: pack.makes ? [{ materialId: pack.makes.material, gramsPerUnit: pack.makes.gramsPerUnit }] : [],
    runs: pack.runs.map((run) => ({
      name: run.name,
      unitsPerRun: run.unitsPerRun,
      fillAtLeast: run.fillAtLeast,
      machineMinutes: onStove(run.machineMinutes, question),
      work: run.work,
    })),
    workPerKg: recipe.definition.workPerKg,
    workPerUnit: pack.workPerUnit,
    machineMinutesPerUnit: pack.machineMinutesPerUnit,
    supplies: countedSupplies(recipe.definition, pack, keptBy(question)),
    roomMlPerUnit: pack.freezerMl > 0 ? { freezer: pack.freezerMl } : {},
    onDays: null,
    ...(atMostByDay.some((units) => units !== null) ? { atMostByDay } : {}),
    wish: {
      atLeast: wish.atLeast,
      about: wish.about,
      atMost: wish.atMost,
      worth,
      worthBeyond: worth * beyondFactor,
      shortfallWorth: worth * shortfallFactor,
    },
  }
}

/** Minutes of a run, those of burners for as many as a canner covers, so that they are counted as a timetable does. */
function onStove(minutes: PackRun['machineMinutes'], { equipment }: Question): PackRun['machineMinutes'] {
  if (minutes.burner === undefined) return minutes
  const burners = burnersOf(burnerParts(equipment), Object.keys(minutes) as EquipmentKind[])
  return burners === 1 ? minutes : { ...minutes, burner: minutes.burner * burners }
}

/** What timetables taught about a product: the least of what they say for each day; null: nothing. */
function unitsAtMost(product: string, { days, clock = [] }: Question): (number | null)[] {
  return days.map((day) => {
    const told = clock.flatMap((limit) =>
      limit.kind === 'units' && limit.productId === product && limit.dayId === day.id ? [limit.atMost] : [],
    )
    return told.length === 0 ? null : Math.min(...told)
  })
}

function machineOf(kind: EquipmentKind, question: Question): Machine {
  const machines = question.equipment.filter((equipment) => equipment.kind === kind)
  return {
    id: kind,
    name: kind,
    count: machines.reduce((sum, machine) => sum + machine.count, 0),
    minutesByDay: question.days.map((day) => {
      const open = machines
        .filter((machine) => !machine.outOn.includes(day.id))
        .reduce((sum, machine) => {
          const minutes = machine.aroundTheClock ? minutesOfADay : day.closesMinute - day.opensMinute
          return sum + machine.count * minutes
        }, 0)
      const taught = (question.clock ?? []).flatMap((limit) =>
        limit.kind === 'machine' && limit.machine === kind && limit.dayId === day.id ? [limit.minutes] : [],
      )
      return Math.min(open, ...taught)
    }),
  }
}

function freezerOf(question: Question): Room {
  const ml = question.equipment
    .filter((equipment) => equipment.kind === 'freezer')
    .reduce((sum, freezer) => sum + freezer.count * (freezer.roomMl ?? 0), 0)
  return { id: 'freezer', name: 'freezer', ml }
}

function workersOf(question: Question): Worker[] {
  const bySkills = new Map<string, Worker>()
  for (const helper of question.helpers) {
    const skills: string[] = allowedSkills(helper.ageBand, helper.skills)
    if (skills.length === 0) continue
    const id = skills.join('+')
    const worker = bySkills.get(id) ?? { id, name: '', skills, minutesByDay: question.days.map(() => 0) }
    worker.name = worker.name === '' ? helper.name : `${worker.name}, ${helper.name}`
    worker.minutesByDay = worker.minutesByDay.map((minutes, number) => {
      const day = question.days[number]
      return minutes + (day ? minutesAt(helper, day) : 0)
    })
    bySkills.set(id, worker)
  }
  return [...bySkills.values()]
}

/** Minutes at the usual speed that a helper gives to a day: the hours within opening, breaks cut out, times the speed. */
function minutesAt(
  { hours, breaks = [], speed = 1 }: HelperAtHand,
  { id, opensMinute, closesMinute }: KitchenDay,
): number {
  const there = hours
    .filter(({ dayId }) => dayId === id)
    .map(({ fromMinute, toMinute }) => ({
      from: Math.max(fromMinute, opensMinute),
      to: Math.min(toMinute, closesMinute),
    }))
  const away = breaks
    .filter(({ dayId }) => dayId === id)
    .map(({ fromMinute, toMinute }) => ({ from: fromMinute, to: toMinute }))
  return Math.floor(lengthOf(cutOut(there, away)) * speed)
}

/** Keys of the supplies that the kitchen keeps count of. */
function keptBy({ supplies }: Pick<Question, 'supplies'>): ReadonlySet<string> {
  return new Set(supplies.map(({ key }) => key))
}

function suppliesOf(question: Question, wished: Wished[]): Supply[] {
  const kept = keptBy(question)
  const needed = new Set(
    wished.flatMap(({ recipe, pack }) => Object.keys(countedSupplies(recipe.definition, pack, kept))),
  )
  const known = question.supplies.map((supply) => ({
    id: supply.key,
    name: supply.name,
    unit: supply.unit,
    onHand: supply.onHand,
    packSize: supply.packSize,
    packPrice: supply.packPriceMinor,
    packsAtMost: supply.packsAtMost,
  }))
  const missing = [...needed]
    .filter((key) => !known.some((supply) => supply.id === key))
    .map((key) => ({
      id: key,
      name: key.replaceAll('-', ' '),
      unit: '',
      onHand: 0,
      packSize: 1,
      packPrice: 0,
      packsAtMost: 0,
    }))
  return [...known.filter((supply) => needed.has(supply.id)), ...missing]
}

function outletOf(outlet: OpenOutlet, materials: Material[]): Outlet {
  return {
    id: outlet.id,
    name: outlet.name,
    capacityGrams: outlet.capacityGrams,
    worthPerKg: outlet.worthPerKgMinor,
    takesProduce: outlet.takesProduce ? { crops: outlet.crops, classes: outlet.classes } : null,
    takesMaterials: outlet.materials.filter((id) => materials.some((material) => material.id === id)),
  }
}
