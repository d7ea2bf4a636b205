import {
  type EquipmentOnHand,
  type HelperAtHand,
  type KitchenDay,
  type OpenOutlet,
  productId,
  type SupplyOnHand,
} from '../../../core/division/index.ts'
import { type Belief, learn, withLearnt } from '../../../core/learning/index.ts'
import {
  ageBands,
  crop,
  equipmentKinds,
  methods,
  outletKinds,
  type RipenessClass,
  ripenessClasses,
  type Storage,
  stations,
  storages,
  workKinds,
} from '../../../core/produce/index.ts'
import { type KitchenPlace, type Recipe, settleRecipe, settleRuns } from '../../../core/recipes/index.ts'
import { dateColumn, storedAs, storedDate, storedList } from '../../../db/stored.ts'
import type { TransactionClient } from '../../../db/transaction.ts'
import type { Asking } from '../../../web/asking.ts'
import { readHolds } from '../../equipment/index.ts'
import { readPlace } from '../../processes/index.ts'
import { readDefinition } from '../../recipes/index.ts'
import { listObservations } from '../../yields/queries.ts'

/** Everything a plan can be made of: what came in, and what the kitchen has. */
export type Kitchen = {
  /** Lots of which something is left, newest last, and those of the plan. */
  lots: KitchenLot[]
  /** Work days from today on, and those of the plan. */
  days: (KitchenDay & { note: string | null })[]
  equipment: EquipmentOnHand[]
  helpers: HelperAtHand[]
  supplies: SupplyOnHand[]
  /** In their order of use; `open`: used at all at the moment. */
  outlets: (OpenOutlet & { open: boolean })[]
  /**
   * By name, as they can be made here and as their batches taught: canner loads with the tested minutes of this altitude in them, canned sizes that
   * follow no tested process left out. Retired ones only where the plan wishes for them.
   */
  recipes: Recipe[]
  /** What batches taught of each product's yield, by product. */
  beliefs: ReadonlyMap<string, Belief>
  /** The sizes left out, and why: they are not planned, labelled or shelved as canned food. */
  notForShelf: NotForShelf[]
  /** What its processes depend on. */
  place: KitchenPlace
}

export type NotForShelf = { recipeId: string; name: string; pack: string; units: string; says: string[] }

export type KitchenLot = {
  id: string
  name: string
  crop: string
  storage: Storage
  arrivedOn: string
  broughtBy: string
  weightGrams: number
  /** What the newest sorting found; null: it was never sorted. */
  sorting: {
    sortedOn: string
    grams: Record<RipenessClass, number>
    setAsideGrams: number
    lostGrams: number
  } | null
}

/** Reads the co-op's kitchen at once. `planId` adds what only that plan still refers to. */
export async function readKitchen(
  prisma: TransactionClient,
  asking: Asking,
  { today, planId }: { today: string; planId?: string },
): Promise<Kitchen> {
  const { coopId } = asking
  const ofPlan = { plans: { some: { planId: planId ?? '' } } }
  const lots = await prisma.lot.findMany({
    where: { coopId, OR: [{ closedOn: null }, ofPlan] },
    include: { sortings: { orderBy: [{ createdAt: 'desc' }, { id: 'desc' }], take: 1 } },
    orderBy: [{ arrivedOn: 'asc' }, { createdAt: 'asc' }, { id: 'asc' }],
  })
  const days = await prisma.workDay.findMany({
    where: { coopId, OR: [{ date: { gte: dateColumn(today) } }, ofPlan] },
    orderBy: { date: 'asc' },
  })
  const equipment = await prisma.equipment.findMany({
    where: { coopId },
    include: { out: true },
    orderBy: { id: 'asc' },
  })
  const helpers = await prisma.helper.findMany({
    where: { coopId },
    include: { hours: true, breaks: true },
    orderBy: { name: 'asc' },
  })
  const supplies = await prisma.supply.findMany({ where: { coopId, gone: false }, orderBy: { name: 'asc' } })
  const outlets = await prisma.outlet.findMany({ where: { coopId }, orderBy: [{ rank: 'asc' }, { id: 'asc' }] })
  const recipes = await prisma.recipe.findMany({
    where: { coopId, OR: [{ retired: false }, { wishes: { some: { planId: planId ?? '' } } }] },
    orderBy: { name: 'asc' },
  })
  const place = await readPlace(prisma, asking)
  const atHand = equipment.map(machineOf)
  const observations = await listObservations(prisma, asking)
  const settled = recipes.map(({ id, name, method, definition }) => {
    const recipe = { id, name, method: storedAs(methods, method), definition: readDefinition(name, definition) }
    const { recipe: settled, ...rest } = settleRecipe(recipe, place)
    const made = settleRuns(settled, atHand)
    const learnt = learn(made, observations)
    return { stored: recipe, ...rest, learnt, recipe: withLearnt(made, learnt) }
  })
  return {
    place,
    lots: named(lots),
    days: days.map(({ id, date, opensMinute, closesMinute, note }) => ({
      id,
      date: storedDate(date),
      opensMinute,
      closesMinute,
      note,
    })),
    equipment: atHand,
    helpers: helpers.map(helperOf),
    supplies: supplies.map(({ key, name, unit, onHand, packSize, packPriceMinor, packsAtMost }) => ({
      key,
      name,
      unit,
      onHand,
      packSize,
      packPriceMinor,
      packsAtMost,
    })),
    outlets: outlets.map((outlet) => ({
      id: outlet.id,
      kind: storedAs(outletKinds, outlet.kind),
      name: outlet.name,
      capacityGrams: outlet.capacityGrams,
      worthPerKgMinor: outlet.worthPerKgMinor,
      takesProduce: outlet.takesProduce,
      crops: outlet.crops,
      classes: storedList(ripenessClasses, outlet.classes),
      materials: outlet.materials,
      open: outlet.open,
    })),
    recipes: settled.flatMap(({ recipe }) => (recipe.definition.packs.length > 0 ? [recipe] : [])),
    beliefs: new Map(
      settled.flatMap(({ stored: { id }, learnt }) =>
        Object.entries(learnt.yieldByPack).map(([pack, belief]) => [productId(id, pack), belief] as const),
      ),
    ),
    notForShelf: settled.flatMap(({ stored, leftOut }) =>
      leftOut.map(({ pack, departures }) => ({
        recipeId: stored.id,
        name: stored.name,
        pack,
        units: stored.definition.packs.find(({ key }) => key === pack)?.units ?? pack,
        says: departures.length > 0 ? departures.map(({ says }) => says) : ['No tested process is known for it.'],
      })),
    ),
  }
}

type MachineRow = {
  id: string
  kind: string
  name: string
  count: number
  roomMl: number | null
  aroundTheClock: boolean
  holds: unknown
  comeUpMinutes: number | null
  coolDownMinutes: number | null
  burners: number | null
  fromMinute: number | null
  toMinute: number | null
  out: { workDayId: string }[]
}

/** What nobody has said is left out, so that the core takes its own figures. */
function machineOf(row: MachineRow): EquipmentOnHand {
  const { id, name, count, roomMl, aroundTheClock, comeUpMinutes, coolDownMinutes, burners, fromMinute, toMinute } = row
  const holds = readHolds(row.holds)
  return {
    id,
    kind: storedAs(equipmentKinds, row.kind),
    name,
    count,
    roomMl,
    aroundTheClock,
    outOn: row.out.map(({ workDayId }) => workDayId).sort(),
    ...(Object.keys(holds).length > 0 ? { holds } : {}),
    ...(comeUpMinutes === null ? {} : { comeUpMinutes }),
    ...(coolDownMinutes === null ? {} : { coolDownMinutes }),
    ...(burners === null ? {} : { burners }),
    ...(fromMinute === null ? {} : { fromMinute }),
    ...(toMinute === null ? {} : { toMinute }),
  }
}

type SpanRow = { workDayId: string; fromMinute: number; toMinute: number }
type HelperRow = {
  id: string
  name: string
  ageBand: string
  skills: string[]
  speedPercent: number
  stretchMinutes: number | null
  likes: string[]
  dislikes: string[]
  hours: SpanRow[]
  breaks: SpanRow[]
}

/** A usual speed, no breaks and no wishes are left out: questions read as they did before these were asked for. */
function helperOf({ id, name, speedPercent, stretchMinutes, ...row }: HelperRow): HelperAtHand {
  const likes = storedList(stations, row.likes)
  const dislikes = storedList(stations, row.dislikes)
  return {
    id,
    name,
    ageBand: storedAs(ageBands, row.ageBand),
    skills: storedList(workKinds, row.skills),
    hours: spansOf(row.hours),
    ...(row.breaks.length > 0 ? { breaks: spansOf(row.breaks) } : {}),
    ...(speedPercent === 100 ? {} : { speed: speedPercent / 100 }),
    ...(stretchMinutes === null ? {} : { stretchMinutes }),
    ...(likes.length > 0 ? { likes } : {}),
    ...(dislikes.length > 0 ? { dislikes } : {}),
  }
}

function spansOf(rows: readonly SpanRow[]): HelperAtHand['hours'] {
  return rows
    .map(({ workDayId, fromMinute, toMinute }) => ({ dayId: workDayId, fromMinute, toMinute }))
    .sort((a, b) => (a.dayId === b.dayId ? a.fromMinute - b.fromMinute : a.dayId < b.dayId ? -1 : 1))
}

type LotRow = {
  id: string
  crop: string
  variety: string | null
  storage: string
  arrivedOn: Date
  broughtBy: string
  weightGrams: number
  sortings: SortingRow[]
}
type SortingRow = {
  sortedOn: Date
  firmGrams: number
  ripeGrams: number
  softGrams: number
  damagedGrams: number
  setAsideGrams: number
  lostGrams: number
}

/** Lots called by crop and variety, and by who brought them where two would be called the same. */
function named(rows: LotRow[]): KitchenLot[] {
  const short = rows.map((row) => {
    const plural = crop(row.crop)?.plural ?? row.crop
    return row.variety === null ? plural : `${plural} (${row.variety})`
  })
  return rows.map((row, number) => {
    const name = short[number] ?? row.crop
    const shared = short.filter((other) => other === name).length > 1
    const [sorting] = row.sortings
    return {
      id: row.id,
      name: shared ? `${name} from ${row.broughtBy}` : name,
      crop: row.crop,
      storage: storedAs(storages, row.storage),
      arrivedOn: storedDate(row.arrivedOn),
      broughtBy: row.broughtBy,
      weightGrams: row.weightGrams,
      sorting: sorting ? sortingOf(sorting) : null,
    }
  })
}

function sortingOf(row: SortingRow): NonNullable<KitchenLot['sorting']> {
  const { firmGrams, ripeGrams, softGrams, damagedGrams, setAsideGrams, lostGrams } = row
  return {
    sortedOn: storedDate(row.sortedOn),
    grams: { firm: firmGrams, ripe: ripeGrams, soft: softGrams, damaged: damagedGrams },
    setAsideGrams,
    lostGrams,
  }
}
