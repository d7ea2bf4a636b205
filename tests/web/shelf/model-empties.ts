import type { TestApp } from '../../support/app.ts'

/**
 * Jars that each household got with something in them, by "household size", added up entry by entry. A take counts for
 * who took it and against whose it was; anything else that comes to or goes from a household's own line counts for that
 * one, save what it gave away, broke or counted. An undo counts as what it takes back. Without those who got none in all.
 */
export async function jarsGot({ prisma, coopId }: TestApp): Promise<Map<string, number>> {
  const entries = await prisma.shelfEntry.findMany({
    where: { coopId, jarBatchId: { not: null } },
    select: {
      kind: true,
      units: true,
      householdId: true,
      undoes: { select: { kind: true } },
      jarBatch: { select: { householdId: true, batch: { select: { jar: true } } } },
    },
  })
  const got = new Map<string, number>()
  const add = (household: string | null, jar: string, units: number) => {
    if (household !== null) got.set(`${household} ${jar}`, (got.get(`${household} ${jar}`) ?? 0) + units)
  }
  for (const { kind, units, householdId: taker, undoes, jarBatch } of entries) {
    const owner = jarBatch?.householdId ?? null
    const jar = jarBatch?.batch.jar ?? null
    const does = undoes?.kind ?? kind
    if (jar === null) continue
    if (['put', 'move', 'share'].includes(does)) add(owner, jar, units)
    if (does === 'take' && taker !== owner) {
      add(owner, jar, units)
      add(taker, jar, -units)
    }
  }
  return new Map([...got].filter(([, units]) => units !== 0))
}
