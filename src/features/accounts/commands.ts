import { existsSync } from 'node:fs'
import { join } from 'node:path'
import { systemClock } from '../../clock.ts'
import { type Database, openDatabase } from '../../db/client.ts'
import { FolderLockError } from '../../db/embedded/folder-lock.ts'
import { migrateDatabase } from '../../db/migrate.ts'
import { inTransaction } from '../../db/transaction.ts'
import { randomId } from '../../ids.ts'
import { readSettings, type Settings, SettingsError } from '../../settings.ts'
import { hashOfSecret, randomSecret } from '../../web/sessions/index.ts'
import { resetPath } from '../people/paths.ts'
import { beginHostReset, listSignInNames } from './host-queries.ts'
import { setUpPath } from './paths.ts'
import { ASKED_CODE_HOURS, askedCode } from './set-up/offer.ts'

type Environment = Record<string, string | undefined>
type Say = (line: string) => void

/**
 * `let-in NAME`: a link by which whoever has this sign-in name or mail address chooses a new password within an hour.
 * Without a name: all sign-in names. On the embedded database the service must not run meanwhile.
 *
 * @returns the process's exit code: 0 done, 1 not done, 2 asked wrongly
 */
export function letInCommand(args: readonly string[], environment: Environment, say: Say): Promise<number> {
  const [name] = args
  if (args.length > 1) return asked(say, 'npm run let-in -- SIGN-IN-NAME')
  return withDatabase(environment, say, 'Stop the service, make the link, and start it again.', async (open) => {
    const { prisma } = open.database
    if (name === undefined) {
      const names = await listSignInNames(prisma)
      for (const one of names) say(`${one.signInName}: ${one.name}, ${one.role} of ${one.coop}`)
      say('For a new password: npm run let-in -- SIGN-IN-NAME')
      return names.length > 0 ? 2 : 1
    }
    const secret = randomSecret()
    const noting = { now: systemClock.now(), newId: randomId }
    const whose = await inTransaction(prisma, (transaction) =>
      beginHostReset(transaction, name, hashOfSecret(secret), noting),
    )
    if (whose === null) {
      say(`Nobody signs in by that name. All names: npm run let-in`)
      return 1
    }
    say(`${whose.name} of ${whose.coop} can choose a new password within an hour, at:`)
    say(`${open.origin}${resetPath(secret)}`)
    return 0
  })
}

/**
 * `set-up-code`: a code by which a further co-op can be set up on the same service within a day. On the embedded
 * database the service must not run meanwhile; SET_UP_CODE does the same at its start.
 *
 * @returns the process's exit code: 0 done, 1 not done, 2 asked wrongly
 */
export function setUpCodeCommand(args: readonly string[], environment: Environment, say: Say): Promise<number> {
  if (args.length > 0) return asked(say, 'npm run set-up-code')
  const otherwise =
    'Stop the service, make the code, and start it again; or start it with a code of your own in SET_UP_CODE.'
  return withDatabase(environment, say, otherwise, async ({ database, origin }) => {
    const code = await askedCode(database.prisma, systemClock.now())
    say(`A further co-op can be set up at ${origin}${setUpPath()} within ${ASKED_CODE_HOURS} hours, once, with:`)
    say(code)
    return 0
  })
}

type Open = {
  database: Database
  /** where the service is reached, without a slash at the end */
  origin: string
}

async function withDatabase(
  environment: Environment,
  say: Say,
  whenLocked: string,
  work: (open: Open) => Promise<number>,
): Promise<number> {
  let database: Database | null = null
  try {
    const settings = readSettings(environment)
    database = await openThere(settings)
    if (database === null) {
      say(`There is no database in ${settings.dataDir}. Start the service first.`)
      return 1
    }
    await migrateDatabase(database)
    return await work({ database, origin: settings.publicAddress?.origin ?? `http://localhost:${settings.port}` })
  } catch (error) {
    if (error instanceof FolderLockError) {
      say(error.message)
      say(whenLocked)
      return 1
    }
    if (!(error instanceof SettingsError)) throw error
    say(error.message)
    return 2
  } finally {
    await database?.close()
  }
}

async function openThere({ databaseUrl, dataDir }: Settings): Promise<Database | null> {
  if (databaseUrl !== null) return openDatabase({ url: databaseUrl })
  return existsSync(join(dataDir, 'database')) ? openDatabase({ dataDir }) : null
}

async function asked(say: Say, usage: string): Promise<number> {
  say(`Usage: ${usage}`)
  return 2
}
