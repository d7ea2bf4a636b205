import fc from 'fast-check'
import { expect } from 'vitest'
import { inTransaction } from '../../../src/db/transaction.ts'
import type { Writing } from '../../../src/features/changes/index.ts'
import { liftRecall, recallBatches } from '../../../src/features/recalls/actions.ts'
import { countStock, moveUnits, undoEntry, writeEntry } from '../../../src/features/shelf/index.ts'
import type { TestApp } from '../../support/app.ts'
import { writingFor } from './jars.ts'
import type { Refusal, ShelfModel, Spot } from './model.ts'

/** The shelf of the service: ids in the order of the model's spots, batches, entries and recalls. */
export type Real = {
  app: TestApp
  spots: readonly Spot[]
  lineIds: readonly string[]
  batchIds: readonly string[]
  placeIds: readonly string[]
  householdIds: readonly (string | null)[]
  entryIds: string[]
  recallIds: string[]
}

/** One thing that somebody does at a shelf, on both. */
export type Step = fc.AsyncCommand<ShelfModel, Real>

/** Times that each thing was done, and how often it was refused. */
export type Tally = Map<string, { done: number; refused: number }>

/** Any step: of which spot, how many, and which earlier entry or recall (each counted from the first, over and over). */
export function anyStep(spots: readonly Spot[], tally: Tally): fc.Arbitrary<Step>[] {
  // Mostly where there is something from the beginning, or nearly everything would be refused.
  const home = spots.flatMap(({ place, owner }, number) => (place === 0 && owner === 0 ? [number] : []))
  const spot = fc.oneof({ weight: 2, arbitrary: fc.constantFrom(...home) }, fc.nat(spots.length - 1))
  const units = fc.integer({ min: 1, max: 6 })
  const which = fc.nat(40)
  const one = (name: string, act: Act, possible: Possible = () => true) => step(name, tally, act, possible)
  return [
    fc.tuple(spot, fc.integer({ min: 1, max: 12 })).map(([at, n]) =>
      one(`put ${n} at ${at}`, (model, real) => ({
        expected: model.put(at, n),
        real: (w) => writeEntry(w, { jarBatchId: id(real.lineIds, at), kind: 'put', units: n }),
      })),
    ),
    ...(['take', 'give'] as const).map((kind) =>
      fc.tuple(spot, units).map(([at, n]) =>
        one(`${kind} ${n} at ${at}`, (model, real) => ({
          expected: model.takeOut(at, n),
          real: (w) =>
            writeEntry(w, {
              ...{ jarBatchId: id(real.lineIds, at), kind, units: -n },
              ...(kind === 'take' ? { householdId: real.app.householdId } : {}),
            }),
        })),
      ),
    ),
    fc.tuple(spot, units).map(([at, n]) =>
      one(`break ${n} at ${at}`, (model, real) => ({
        expected: model.breakUnits(at, n),
        real: (w) => writeEntry(w, { jarBatchId: id(real.lineIds, at), kind: 'break', units: -n }),
      })),
    ),
    fc.tuple(spot, fc.nat(spots.length - 1), units).map(([from, like, n]) => {
      // Another place and owner, the same batch: jars do not change what they are.
      const { place, owner } = at(spots, like)
      const to = spots.findIndex((s) => s.batch === at(spots, from).batch && s.place === place && s.owner === owner)
      return one(`move ${n} from ${from} to ${to}`, (model, real) => {
        const there = { placeId: id(real.placeIds, place), householdId: real.householdIds[owner] ?? null }
        return {
          expected: model.move(from, to, n),
          real: (w) => moveUnits(w, id(real.lineIds, from), there, n),
        }
      })
    }),
    fc.tuple(spot, fc.nat(8), fc.constantFrom(0, 0, 0, 1)).map(([at, counted, off]) =>
      one(`count ${counted} at ${at}, shown ${off} off`, (model, real) => {
        const shown = model.stock(at) + off
        return {
          expected: model.count(at, shown, counted),
          real: (w) => countStock(w, { jarBatchId: id(real.lineIds, at) }, shown, counted),
        }
      }),
    ),
    ...Array.from({ length: 2 }, () =>
      which.map((number) =>
        one(
          `undo ${number}`,
          (model, real) => {
            const entry = number % model.entries.length
            return { expected: model.undo(entry), real: (w) => undoEntry(w, id(real.entryIds, entry)) }
          },
          (model) => model.entries.length > 0,
        ),
      ),
    ),
    fc.nat(1).map((batch) =>
      one(`recall ${batch}`, (model, real) => {
        model.recall(batch)
        return {
          expected: null,
          real: async (w) => {
            const { id: recallId } = await recallBatches(w, {
              ...{ batchIds: [id(real.batchIds, batch)], reason: 'A lid had lifted.', todo: 'Leave it closed.' },
            })
            real.recallIds.push(recallId)
          },
        }
      }),
    ),
    ...Array.from({ length: 2 }, () =>
      which.map((number) =>
        one(
          `lift ${number}`,
          (model, real) => {
            const recall = number % model.recalls
            return {
              expected: model.lift(recall) ? null : 'lifted before',
              real: (w) => liftRecall(w, id(real.recallIds, recall)),
            }
          },
          (model) => model.recalls > 0,
        ),
      ),
    ),
  ]
}

type Outcome = Refusal | 'lifted before' | null
type Act = (model: ShelfModel, real: Real) => { expected: Outcome; real: (writing: Writing) => Promise<unknown> }
type Possible = (model: Readonly<ShelfModel>) => boolean

const saidOf: Record<NonNullable<Outcome>, RegExp> = {
  'too few': /^(None of Damson jam is|Only \d+ of Damson jam (is|are)) left here/,
  recalled: /is recalled: leave it where it is/,
  'not the stock shown': /as when you began\. Count again\.$/,
  'stands there already': /^They stand there already/,
  'undone before': /^Somebody took this back already/,
  'an undo': /^This takes another entry back/,
  'lifted before': /^Somebody lifted this recall already/,
}

function step(name: string, tally: Tally, act: Act, possible: Possible): Step {
  const [kind = name] = name.split(' ')
  return {
    check: possible,
    toString: () => name,
    async run(model, real) {
      const { expected, real: work } = act(model, real)
      const done = inTransaction(real.app.prisma, (transaction) => work(writingFor(real.app, transaction)))
      if (expected === null) await done
      else await expect(done, name).rejects.toThrow(saidOf[expected])
      const counted = tally.get(kind) ?? { done: 0, refused: 0 }
      counted[expected === null ? 'done' : 'refused'] += 1
      tally.set(kind, counted)
      await expectAlike(model, real, name)
    },
  }
}

/** Every line's stock, every entry with the stock that it left, and what is recalled are as in the model. */
async function expectAlike(model: ShelfModel, real: Real, name: string): Promise<void> {
  const { coopId, prisma } = real.app
  const lines = await prisma.jarBatch.findMany({
    where: { coopId, id: { in: [...real.lineIds] } },
    select: { id: true, stock: true, batch: { select: { recalledAt: true } } },
  })
  const entries = await prisma.shelfEntry.findMany({
    where: { coopId, jarBatchId: { in: [...real.lineIds] } },
    select: { id: true, jarBatchId: true, units: true, stockAfter: true },
    orderBy: { order: 'asc' },
  })
  for (const [spot, lineId] of real.lineIds.entries()) {
    const line = lines.find((one) => one.id === lineId) ?? expect.fail('the line is there')
    const own = entries.filter((entry) => entry.jarBatchId === lineId)
    const wanted = model.entries.filter((entry) => entry.spot === spot)
    let sum = 0
    const running = wanted.map(({ units }) => {
      sum += units
      return { units, stockAfter: sum }
    })
    expect(
      own.map(({ units, stockAfter }) => ({ units, stockAfter })),
      `${name}: entries at ${spot}`,
    ).toEqual(running)
    expect([line.stock, line.batch.recalledAt !== null], `${name}: stock at ${spot}, recalled`).toEqual([
      sum,
      model.recalled(at(real.spots, spot).batch),
    ])
  }
  noteIds(model, real, entries)
}

/** The ids of entries that are new, in the model's order: the nth of a spot is the nth of its line. */
function noteIds(model: ShelfModel, real: Real, entries: { id: string; jarBatchId: string | null }[]): void {
  for (let number = real.entryIds.length; number < model.entries.length; number++) {
    const { spot } = at(model.entries, number)
    const nth = model.entries.slice(0, number).filter((entry) => entry.spot === spot).length
    const own = entries.filter((entry) => entry.jarBatchId === real.lineIds[spot])
    real.entryIds.push(at(own, nth).id)
  }
}

const id = (ids: readonly string[], number: number): string => at(ids, number)

function at<T>(list: readonly T[], number: number): T {
  const found = list[number]
  if (found === undefined) throw new RangeError(`nothing at ${number}`)
  return found
}
