import type { Writing } from '../../changes/index.ts'
import { jarBatchesFor, writeEntries } from '../../shelf/index.ts'

/** Jars of a line that go to a household, in the place where they stand. */
export type Handing = { jarBatchId: string; placeId: string; householdId: string; units: number }

/** One side of a movement, as it was written. */
export type SharedEntry = {
  id: string
  jarBatchId: string
  householdId: string | null
  movement: string | null
  units: number
}

/**
 * The households' own lines for these jars, made where there are none yet: their ids in the order of the handings. Left
 * out where the jars' own line is not there.
 */
export async function linesFor(
  writing: Writing,
  handings: readonly Handing[],
): Promise<(Handing & { toId: string })[]> {
  const { transaction, asking } = writing
  const [found] = await transaction.$queryRaw<{ batchIds: (string | null)[] | null }[]>`
    SELECT array_agg(j."batchId" ORDER BY h."n") AS "batchIds"
    FROM unnest(${handings.map(({ jarBatchId }) => jarBatchId)}::text[]) WITH ORDINALITY AS h("id", "n")
      LEFT JOIN "JarBatch" j ON j."coopId" = ${asking.coopId} AND j."id" = h."id"`
  const known = handings.flatMap((handing, at) => {
    const batchId = found?.batchIds?.[at] ?? null
    return batchId === null ? [] : [{ ...handing, batchId }]
  })
  const toIds = await jarBatchesFor(writing, known)
  return known.flatMap(({ batchId: _, ...handing }, at) => {
    const toId = toIds[at]
    return toId === undefined ? [] : [{ ...handing, toId }]
  })
}

/** Writes both sides of each handing, in the order in which they come. The lines are locked and looked at before. */
export async function writeHandings(
  writing: Writing,
  handings: readonly (Handing & { toId: string })[],
  shareOutId: string,
): Promise<void> {
  const { newId } = writing
  const sides = handings.flatMap(({ jarBatchId, toId, householdId, units }) => {
    const both = { kind: 'share', householdId, movement: newId(), shareOutId } as const
    return [
      { ...both, jarBatchId, units: -units },
      { ...both, jarBatchId: toId, units },
    ]
  })
  await writeEntries(writing, sides)
}

/** Writes the counter-entry of each of these. */
export async function writeCounterEntries(writing: Writing, entries: readonly SharedEntry[]): Promise<void> {
  await writeEntries(
    writing,
    entries.map(({ id, units, ...entry }) => ({ ...entry, units: -units, kind: 'undo', undoesId: id })),
  )
}
