import { closeSync, existsSync, fsyncSync, openSync, readdirSync, readFileSync, renameSync, rmSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { PGlite } from '@electric-sql/pglite'

/** A PGlite whose commits reach the disk, and how often it has flushed since it was opened. */
export type DurablePGlite = { client: PGlite; flushes: () => number }

/**
 * Opens a PGlite data folder, making it when it is not there, such that a commit is acknowledged only after the disk
 * has it. Without this PGlite survives the death of its process but not a power cut: it starts PostgreSQL with `-F`,
 * and its file layer has no flush at all.
 *
 * Uses the internals of PGlite 0.5.14 (`Module.FS`): the version is pinned, and tests/db/durability.test.ts counts
 * the flushes.
 *
 * @param folder the PostgreSQL data folder itself
 * @param options.flush false leaves the flushing out; only tests do, to show what it is for
 * @throws when the folder was written by another major version, is damaged, or PGlite has no file layer to flush
 */
export async function openDurablePGlite(folder: string, options: { flush?: boolean } = {}): Promise<DurablePGlite> {
  if (existsSync(folder)) checkVersion(folder)
  else await makeFolder(folder)
  const client = await open(folder)
  return { client, flushes: options.flush === false ? () => 0 : installFlush(client) }
}

/** The PostgreSQL that is in the pinned PGlite. */
const POSTGRES_MAJOR = '18'

/** PGlite itself only says that it "failed to initialize properly". */
function checkVersion(folder: string): void {
  const major = readFileSync(join(folder, 'PG_VERSION'), 'utf8').trim()
  if (major === POSTGRES_MAJOR) return
  throw new Error(
    `The database in ${folder} was made by PostgreSQL ${major}, and this program has ${POSTGRES_MAJOR}: back it up with the version of Glutworks that made it, and restore that into a new folder.`,
  )
}

/**
 * Makes the folder under another name and gives it its own only when it is complete and on the disk: a start that is cut
 * off leaves nothing that looks like a database.
 */
async function makeFolder(folder: string): Promise<void> {
  const making = `${folder}.new`
  rmSync(making, { recursive: true, force: true })
  await (await open(making)).close()
  flushTree(making)
  renameSync(making, folder)
  flush(dirname(folder))
}

async function open(folder: string): Promise<PGlite> {
  const client = new PGlite({ dataDir: folder, startParams: startParams() })
  await client.waitReady
  return client
}

/** PostgreSQL's own fsync switched on, with the one method whose call reaches the file layer; and less memory. */
function startParams(): string[] {
  const settings = ['fsync=on', 'wal_sync_method=fsync', 'shared_buffers=16MB']
  return [...PGlite.defaultStartParams.filter((param) => param !== '-F'), ...settings.flatMap((s) => ['-c', s])]
}

type FileStream = { nfd?: number; stream_ops: { fsync?: (stream: FileStream) => number } }
type FileLayer = {
  open(path: string, flags: string): FileStream
  close(stream: FileStream): void
  ErrnoError: new (errno: number) => Error
}

/** EIO in the numbering of WASI, which Emscripten's file layer uses. */
const INPUT_OUTPUT_ERROR = 29

function installFlush(client: PGlite): () => number {
  const files = client.Module.FS as unknown as FileLayer
  const stream = files.open('/pglite/data/PG_VERSION', 'r')
  if (typeof stream.nfd !== 'number') throw new Error('This PGlite has no files to flush: its internals have changed.')
  let flushes = 0
  // All files of the folder share these operations, so one assignment covers every one of them.
  stream.stream_ops.fsync = (file) => {
    try {
      if (typeof file.nfd === 'number') fsyncSync(file.nfd)
    } catch {
      // PostgreSQL must hear of a failed flush in its own terms: it then refuses the commit and stops.
      throw new files.ErrnoError(INPUT_OUTPUT_ERROR)
    }
    flushes += 1
    return 0
  }
  files.close(stream)
  return () => flushes
}

/** Flushes what initdb wrote before the flush could be installed: every file, and every folder for its entries. */
function flushTree(folder: string): void {
  for (const entry of readdirSync(folder, { withFileTypes: true })) {
    const path = join(folder, entry.name)
    if (entry.isDirectory()) flushTree(path)
    else if (entry.isFile()) flush(path)
  }
  flush(folder)
}

function flush(path: string): void {
  const descriptor = openSync(path, 'r')
  try {
    fsyncSync(descriptor)
  } finally {
    closeSync(descriptor)
  }
}
