import { createHash } from 'node:crypto'
import { gunzipSync, gzipSync } from 'node:zlib'
import type { Database } from '../../src/db/client.ts'

/** What a backup leaves out, restated here; and the record of migrations, whose times differ. */
const notKept = ['Attempt', 'JobHold', 'Pairing', 'RateWindow', 'Session', 'SetUpCode', '_prisma_migrations']

type Raw = Pick<Database['prisma'], '$queryRawUnsafe' | '$executeRawUnsafe'>
export type Contents = Record<string, string[]>

/** Every row of every table that is kept, as PostgreSQL writes a whole row, sorted; what a restoring noted is left out. */
export function contentsOf(database: Pick<Database, 'prisma'>): Promise<Contents> {
  return database.prisma.$transaction((raw) => readContents(raw), { timeout: 120_000, maxWait: 60_000 })
}

export async function readContents(raw: Raw): Promise<Contents> {
  await raw.$executeRawUnsafe("SET LOCAL TimeZone = 'UTC'")
  const tables = await raw.$queryRawUnsafe<{ name: string }[]>(
    `SELECT tablename AS name FROM pg_tables WHERE schemaname = 'public' ORDER BY tablename COLLATE "C"`,
  )
  const contents: Contents = {}
  for (const { name } of tables) {
    if (notKept.includes(name)) continue
    const columns = await raw.$queryRawUnsafe<{ list: string }[]>(
      `SELECT string_agg(quote_ident(column_name), ', ' ORDER BY column_name COLLATE "C") AS list
       FROM information_schema.columns WHERE table_schema = 'public' AND table_name = $1`,
      name,
    )
    const rows = await raw.$queryRawUnsafe<{ row: string }[]>(
      `SELECT ROW(${columns[0]?.list})::text AS row FROM "${name}"${name === 'SecurityEvent' ? ` WHERE "kind" <> 'restored'` : ''}`,
    )
    contents[name] = rows.map(({ row }) => row).sort()
  }
  return contents
}

/** All that stands in the catalogue of tables, constraints, indexes, triggers and functions. */
export async function schemaOf({ prisma }: Pick<Database, 'prisma'>): Promise<string[]> {
  const rows = await prisma.$queryRaw<{ line: string }[]>`
    SELECT format('column %s.%s %s %s %s', table_name, column_name, data_type, is_nullable, column_default) AS line
      FROM information_schema.columns WHERE table_schema = 'public'
    UNION ALL SELECT format('constraint %s %s %s', conrelid::regclass, conname, pg_get_constraintdef(oid))
      FROM pg_constraint WHERE connamespace = 'public'::regnamespace AND contype <> 'n'
    UNION ALL SELECT format('index %s', indexdef) FROM pg_indexes WHERE schemaname = 'public'
    UNION ALL SELECT format('trigger %s %s', tgenabled, pg_get_triggerdef(t.oid))
      FROM pg_trigger t JOIN pg_class c ON c.oid = tgrelid WHERE NOT tgisinternal AND c.relnamespace = 'public'::regnamespace
    UNION ALL SELECT format('function %s', pg_get_functiondef(oid)) FROM pg_proc WHERE pronamespace = 'public'::regnamespace
    ORDER BY 1`
  return rows.map(({ line }) => line)
}

/** The lines of a backup, unpacked by zlib alone. */
export function linesOf(file: Buffer): string[] {
  return gunzipSync(file).toString('utf8').split('\n').slice(0, -1)
}

/** A backup of these lines with the counts and the hash that belong to them: sound, whatever it says. */
export function sealed(lines: readonly string[]): Buffer {
  const rows: Record<string, number> = {}
  let table = ''
  for (const line of lines.slice(1)) {
    if (line.startsWith('[')) rows[table] = (rows[table] ?? 0) + 1
    else {
      table = JSON.parse(line).table
      rows[table] = 0
    }
  }
  const body = `${lines.join('\n')}\n`
  const total = Object.values(rows).reduce((sum, many) => sum + many, 0)
  const last = { rows, total, sha256: createHash('sha256').update(body).digest('hex') }
  return gzipSync(`${body}${JSON.stringify(last)}\n`)
}
