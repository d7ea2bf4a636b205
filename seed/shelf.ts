import { batchCode } from '../src/core/labels/index.ts'
import type { Keeping, PlaceKind } from '../src/core/shelf/index.ts'
import { stagesFor } from '../src/core/slow/index.ts'
import type { Prisma } from '../src/db/generated/client.ts'
import { seedRecipes } from './recipes.ts'

const places: { name: string; kind: PlaceKind; household: string | null }[] = [
  { name: 'Cellar under the hall', kind: 'cellar', household: null },
  { name: 'Chest freezer in the annex', kind: 'freezer', household: null },
  { name: 'Hall refrigerator', kind: 'refrigerator', household: null },
  { name: 'Fenwicks’ pantry', kind: 'pantry', household: 'Fenwick' },
]

type SeedBatch = {
  recipe: string
  pack: string
  madeDaysAgo: number
  bestInDays: number
  keeping: Keeping
  place: string
  units: number
  inGrams: number
  /** Household, units, days ago. */
  taken: [string, number, number][]
  note: string | null
}

const lastYear = 'From last year: its process record is on paper, in the folder at the hall.'

/** What is left of last year, so that the shelf of a new kitchen is not bare. */
const batches: SeedBatch[] = [
  {
    recipe: 'Damson jam',
    pack: 'half-pint',
    madeDaysAgo: 400,
    bestInDays: 20,
    keeping: 'shelf',
    place: 'Cellar under the hall',
    units: 36,
    inGrams: 7_000,
    taken: [
      ['Fenwick', 6, 320],
      ['Odell', 5, 260],
      ['Marsh', 6, 190],
      ['Hallam', 5, 90],
      ['Quillfeather', 4, 30],
    ],
    note: lastYear,
  },
  {
    recipe: 'Apple sauce',
    pack: 'quart',
    madeDaysAgo: 380,
    bestInDays: 45,
    keeping: 'shelf',
    place: 'Cellar under the hall',
    units: 21,
    inGrams: 31_000,
    taken: [
      ['Odell', 4, 300],
      ['Marsh', 5, 200],
      ['Hallam', 3, 120],
    ],
    note: lastYear,
  },
  {
    recipe: 'Crushed tomatoes',
    pack: 'quart',
    madeDaysAgo: 390,
    bestInDays: -25,
    keeping: 'shelf',
    place: 'Fenwicks’ pantry',
    units: 14,
    inGrams: 18_000,
    taken: [
      ['Fenwick', 7, 210],
      ['Odell', 3, 60],
    ],
    note: lastYear,
  },
  {
    recipe: 'Frozen apple slices',
    pack: 'bag-1kg',
    madeDaysAgo: 200,
    bestInDays: 40,
    keeping: 'freezer',
    place: 'Chest freezer in the annex',
    units: 8,
    inGrams: 11_500,
    taken: [['Quillfeather', 2, 80]],
    note: null,
  },
  {
    recipe: 'Dried apple slices',
    pack: 'bag-200g',
    madeDaysAgo: 150,
    bestInDays: 120,
    keeping: 'dry',
    place: 'Cellar under the hall',
    units: 12,
    inGrams: 21_000,
    taken: [['Hallam', 3, 50]],
    note: null,
  },
]

type Writing = { tx: Prisma.TransactionClient; coopId: string; now: Date; newId: () => string }

/** Places, and what is left on them of the year before, each jar put and taken by entries of the ledger. */
export async function loadShelf(
  { tx, coopId, now, newId }: Writing,
  idOf: { household(name: string): string; recipe(name: string): string },
  by: string,
): Promise<void> {
  const ago = (days: number) => new Date(now.getTime() - days * 86_400_000)
  const placeIds = new Map(places.map(({ name }) => [name, newId()]))
  await tx.place.createMany({
    data: places.map(({ name, kind, household }) => ({
      coopId,
      id: placeIds.get(name) ?? newId(),
      name,
      kind,
      householdId: household === null ? null : idOf.household(household),
    })),
  })
  const lines = batches.map((batch, place) => ({ batch, number: place + 1, id: newId(), jarBatchId: newId() }))
  await tx.coop.update({ where: { id: coopId }, data: { batchesNumbered: lines.length } })
  await tx.batch.createMany({
    data: lines.map(({ batch, number, id }) => {
      const { method, definition } = recipeNamed(batch.recipe)
      const pack = definition.packs.find(({ key }) => key === batch.pack)
      if (pack === undefined) throw new RangeError(`${batch.recipe} is not put up in "${batch.pack}"`)
      return {
        coopId,
        id,
        number,
        code: batchCode(number),
        recipeId: idOf.recipe(batch.recipe),
        recipeVersion: 1,
        pack: batch.pack,
        product: batch.recipe,
        method,
        unit: pack.unit,
        unitsName: pack.units,
        jar: pack.jar,
        keeping: batch.keeping,
        madeOn: ago(batch.madeDaysAgo),
        bestBy: ago(-batch.bestInDays),
        inGrams: batch.inGrams,
        units: batch.units,
        allergens: [],
        worthMinor: pack.worthMinor,
        note: batch.note,
        finishedBy: by,
        finishedAt: ago(batch.madeDaysAgo),
      }
    }),
  })
  await tx.jarBatch.createMany({
    data: lines.map(({ batch, id, jarBatchId }) => ({
      coopId,
      id: jarBatchId,
      batchId: id,
      placeId: placeIds.get(batch.place) ?? '',
      createdAt: ago(batch.madeDaysAgo),
    })),
  })
  await tx.shelfEntry.createMany({
    data: lines
      .flatMap(({ batch, jarBatchId }) => [
        { jarBatchId, kind: 'put', units: batch.units, at: ago(batch.madeDaysAgo), householdId: null },
        ...batch.taken.map(([household, units, days]) => ({
          jarBatchId,
          kind: 'take',
          units: -units,
          at: ago(days),
          householdId: idOf.household(household),
        })),
      ])
      .sort((a, b) => a.at.getTime() - b.at.getTime())
      .map((entry) => ({ coopId, id: newId(), by, ...entry })),
  })
}

function recipeNamed(name: string) {
  const found = seedRecipes.find((recipe) => recipe.name === name)
  if (found === undefined) throw new RangeError(`the demonstration has no recipe "${name}"`)
  return found
}

/** The barrel in the shed, begun three weeks ago; what was due before today is done. */
export async function loadVinegar({ tx, coopId, now, newId }: Writing, by: string): Promise<void> {
  const startedOn = new Date(now.getTime() - 21 * 86_400_000).toISOString().slice(0, 10)
  const made = stagesFor('vinegar-juice', { startedOn })
  if (!made.ok) throw new RangeError(made.says)
  const jobId = newId()
  await tx.slowJob.create({
    data: {
      coopId,
      id: jobId,
      kind: 'vinegar',
      name: 'Vinegar from apple juice',
      place: 'The shed',
      startedOn: new Date(`${startedOn}T00:00:00Z`),
    },
  })
  const today = now.toISOString().slice(0, 10)
  await tx.slowStage.createMany({
    data: made.stages.map(({ number, says, measure, dueOn }) => {
      const due = new Date(`${dueOn}T00:00:00Z`)
      const done = dueOn < today ? { doneOn: due, doneBy: by } : {}
      return { coopId, jobId, number, says, measure, dueOn: due, ...done }
    }),
  })
}
