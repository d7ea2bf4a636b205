import { randomBytes, randomUUID } from 'node:crypto'
import { chmod, link, mkdir, open, readFile, rm } from 'node:fs/promises'
import { join } from 'node:path'

/**
 * The secret that signs cookies: the setting where one is given, else the one kept in `<dataDir>/secret`, which is made
 * by chance (32 bytes, hex) on first start and readable by its owner only. Throws when the file is there but too short.
 */
export async function keptSecret(settings: { secret: string | null; dataDir: string }): Promise<string> {
  if (settings.secret !== null) return settings.secret
  await mkdir(settings.dataDir, { recursive: true })
  const path = join(settings.dataDir, 'secret')
  const secret = (await readSecret(path)) ?? (await makeSecret(path))
  if (secret.length < 32) throw new Error('The secret in the data folder is too short: give 32 characters or more.')
  await chmod(path, 0o600)
  return secret
}

async function readSecret(path: string): Promise<string | null> {
  try {
    return (await readFile(path, 'utf8')).trim()
  } catch (error) {
    if (isCode(error, 'ENOENT')) return null
    throw error
  }
}

/** Written whole and flushed under another name first, so that a crash leaves no half secret. */
async function makeSecret(path: string): Promise<string> {
  const secret = randomBytes(32).toString('hex')
  const draft = `${path}.${randomUUID()}`
  const file = await open(draft, 'w', 0o600)
  try {
    await file.writeFile(`${secret}\n`)
    await file.sync()
  } finally {
    await file.close()
  }
  try {
    await link(draft, path)
    return secret
  } catch (error) {
    // another process was first: its secret is the one
    const theirs = isCode(error, 'EEXIST') ? await readSecret(path) : null
    if (theirs === null) throw error
    return theirs
  } finally {
    await rm(draft)
  }
}

function isCode(error: unknown, code: string): boolean {
  return error instanceof Error && 'code' in error && error.code === code
}
