import { readTables, readTriggers, type Trigger } from '../db/catalogue.ts'
import type { MigratableDatabase } from '../db/migrate.ts'
import { quoted, type Session, writeBesideOthers } from '../db/session.ts'
import type { NewId } from '../ids.ts'
import { noteEventBySql } from './note.ts'

type Writer = Omit<Session, 'script'>
type Stamp = { now: Date; newId: NewId }

/**
 * The history and the audit, whose lines a trigger keeps as they are (migration history_stays). It is never off: these
 * two ways tell it, for their own transaction, of which co-op lines may go, or names in them.
 */
const history: readonly string[] = ['Change', 'SecurityEvent']
/** What of those lines may say a name. */
const historyNames: readonly string[] = ['who', 'what']

/** What stands for the name of somebody who left and wishes not to be known any more. */
export const FORMER_MEMBER = 'a former member'

/**
 * Deletes a co-op with every row that carries its id, in one statement, so that it does not matter which refers to which:
 * foreign keys are looked at when all is gone. The triggers that keep the ledger whole are off for that transaction. That
 * a co-op was deleted is noted, without its name; nothing of other co-ops' history can go.
 *
 * @returns false when it was gone already
 */
export function deleteCoop(database: MigratableDatabase, coopId: string, stamp: Stamp): Promise<boolean> {
  return writeBesideOthers(database, async (session) => {
    const found = await session.texts('SELECT "id" FROM "Coop" WHERE "id" = $1 FOR UPDATE', [coopId])
    if (found.length === 0) return false
    const tables = (await readTables(session)).filter(
      ({ name, columns }) => name === 'Coop' || columns.some((column) => column.name === 'coopId'),
    )
    const deletes = tables.map(({ name }, at) => {
      const id = name === 'Coop' ? 'id' : 'coopId'
      return `gone${at} AS (DELETE FROM ${quoted(name)} WHERE ${quoted(id)} = $1)`
    })
    await session.texts("SELECT set_config('glutworks.coop_deleted', $1, true)", [coopId])
    await withoutTriggers(
      session,
      ({ onDelete }) => onDelete,
      async () => {
        await session.run(`WITH ${deletes.join(', ')} SELECT 1`, [coopId])
      },
    )
    const what = 'A co-op was deleted with all its data, by its steward.'
    await noteEventBySql(session, { kind: 'data-deleted', coopId: null, who: '', memberId: null, what }, stamp)
    return true
  })
}

export type Erasing = { coopId: string; memberId: string; by: { name: string; memberId: string | null } }

/**
 * Takes the personal data of a member who left out of the co-op: account, passkeys, sessions and tokens go, and the name
 * becomes "a former member", in the member's row and wherever it stands as a whole value, within documents too; in lines of
 * the history also as a word. Amounts, and so the ledger's sums, are not touched. Where somebody else in the co-op has the
 * same name, what was done under it stays, since it may be theirs.
 *
 * @returns 'not-former' when there is no such member who left
 */
export function eraseFormerMember(
  database: MigratableDatabase,
  { coopId, memberId, by }: Erasing,
  stamp: Stamp,
): Promise<'erased' | 'not-former'> {
  return writeBesideOthers(database, async (session) => {
    const [name] = await session.texts(
      'SELECT "name" FROM "Member" WHERE "coopId" = $1 AND "id" = $2 AND "leftAt" IS NOT NULL FOR UPDATE',
      [coopId, memberId],
    )
    if (name === undefined) return 'not-former'
    for (const table of ['Account', 'ApiToken', 'Session']) {
      await session.run(`DELETE FROM ${quoted(table)} WHERE "coopId" = $1 AND "memberId" = $2`, [coopId, memberId])
    }
    await session.run('UPDATE "Member" SET "name" = $3, "units" = NULL WHERE "coopId" = $1 AND "id" = $2', [
      coopId,
      memberId,
      FORMER_MEMBER,
    ])
    const others = await session.texts('SELECT "id" FROM "Member" WHERE "coopId" = $1 AND "name" = $2', [coopId, name])
    if (others.length === 0 && name !== FORMER_MEMBER) {
      await withoutTriggers(
        session,
        ({ onUpdate }) => onUpdate,
        () => replaceName(session, { coopId, memberId, name }),
      )
    }
    const what = 'The personal data of a member who left was deleted.'
    const event = { kind: 'data-deleted', coopId, who: by.name, memberId: by.memberId, what } as const
    await noteEventBySql(session, event, stamp)
    return 'erased'
  })
}

async function replaceName(
  session: Writer,
  { coopId, memberId, name }: { coopId: string; memberId: string; name: string },
): Promise<void> {
  await session.texts("SELECT set_config('glutworks.name_erased', $1, true)", [coopId])
  const unique = new Set(
    await session.texts(`
      SELECT DISTINCT c.relname || '.' || a.attname FROM pg_index i
      JOIN pg_class c ON c.oid = i.indrelid JOIN pg_attribute a ON a.attrelid = c.oid AND a.attnum = ANY (i.indkey::int2[])
      WHERE i.indisunique AND c.relnamespace = current_schema()::regnamespace`),
  )
  for (const { name: table, columns } of await readTables(session)) {
    if (table === 'Coop' || table === 'Household' || !columns.some((column) => column.name === 'coopId')) continue
    for (const { name: column, type } of columns) {
      // the kind of a line may be a word that is a name as well
      if (history.includes(table) && !historyNames.includes(column)) continue
      const at = quoted(column)
      const where = `UPDATE ${quoted(table)} SET ${at} =`
      if (type === 'text' && column !== 'coopId' && column !== 'id') {
        // two former members in one list whose names must differ
        const stands = unique.has(`${table}.${column}`) ? `${FORMER_MEMBER} (${memberId})` : FORMER_MEMBER
        await session.run(`${where} $3 WHERE "coopId" = $1 AND ${at} = $2`, [coopId, name, stands])
      } else if (type === 'jsonb') {
        await session.run(
          `${where} replace(${at}::text, to_json($2::text)::text, to_json($3::text)::text)::jsonb
           WHERE "coopId" = $1 AND strpos(${at}::text, to_json($2::text)::text) > 0`,
          [coopId, name, FORMER_MEMBER],
        )
      }
    }
  }
  // PostgreSQL's \\m and \\M are the edges of words; a name may begin or end with what is none
  const pattern = `(^|\\W)${name.replaceAll(/[^\p{L}\p{N} ]/gu, '\\$&')}(?=\\W|$)`
  for (const table of history) {
    await session.run(
      `UPDATE ${quoted(table)} SET "what" = regexp_replace("what", $2, '\\1' || $3, 'g') WHERE "coopId" = $1 AND "what" ~ $2`,
      [coopId, pattern, FORMER_MEMBER],
    )
  }
}

/** Whoever owns the tables may do so; others' writes to these tables wait until the transaction ends. History's stay on. */
async function withoutTriggers(
  session: Writer,
  which: (trigger: Trigger) => boolean,
  work: () => Promise<void>,
): Promise<void> {
  const off = (await readTriggers(session)).filter((trigger) => which(trigger) && !history.includes(trigger.table))
  const turn = async (how: string) => {
    for (const { table, name } of off) await session.run(`ALTER TABLE ${quoted(table)} ${how} TRIGGER ${quoted(name)}`)
  }
  await turn('DISABLE')
  await work()
  await turn('ENABLE')
}
