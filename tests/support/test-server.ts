import pg from 'pg'
import { isLeftOver } from './left-overs.ts'

/** Where the PostgreSQL server of the tests is; the user must be allowed to make databases. */
export const TEST_SERVER = process.env['GLUTWORKS_TEST_PG'] ?? 'postgres://postgres@127.0.0.1:5432/postgres'

/** The same server, another database. */
export function urlOf(database: string): string {
  const url = new URL(TEST_SERVER)
  url.pathname = `/${database}`
  return url.href
}

/** @throws when the server cannot be reached: where it was promised, its absence is a failure and no reason to skip. */
export async function createTestDatabase(name: string, template?: string): Promise<void> {
  await onServer(`CREATE DATABASE "${name}"${template === undefined ? '' : ` TEMPLATE "${template}"`}`)
}

export async function dropTestDatabase(name: string): Promise<void> {
  await onServer(`DROP DATABASE IF EXISTS "${name}" WITH (FORCE)`)
}

export async function sweepTestDatabases(): Promise<void> {
  const { rows } = await onServer('SELECT datname FROM pg_database')
  for (const { datname } of rows) if (isLeftOver(datname)) await dropTestDatabase(datname)
}

async function onServer(sql: string): Promise<pg.QueryResult<{ datname: string }>> {
  const client = new pg.Client({ connectionString: TEST_SERVER, connectionTimeoutMillis: 5_000 })
  try {
    await client.connect()
  } catch (error) {
    const { host, pathname } = new URL(TEST_SERVER)
    throw new Error(`The tests need a PostgreSQL server at ${host}${pathname} (GLUTWORKS_TEST_PG says where).`, {
      cause: error,
    })
  }
  try {
    return await client.query(sql)
  } finally {
    await client.end()
  }
}
