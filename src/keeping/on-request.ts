import { chmodSync, rmSync } from 'node:fs'
import { connect, createServer, type Socket } from 'node:net'
import { isAbsolute, join } from 'node:path'
import { z } from 'zod'
import type { Backups } from './backups.ts'
import { BackupError } from './format.ts'
import type { BackupMade } from './write-backup.ts'

// The embedded database belongs to the process that has its folder. So the command asks the running service, by a Unix
// socket in that folder which only its owner may open: one line of JSON each way.

const request = z.object({ backup: z.string().refine(isAbsolute) })
const made = z.object({ file: z.string(), rows: z.int(), bytes: z.int(), readMs: z.int() })
const answer = z.union([z.object({ made }), z.object({ refused: z.string() })])
const LONGEST_REQUEST = 8_192

const socketPath = (dataDir: string) => join(dataDir, 'backup.sock')

/**
 * Makes backups for whoever asks at the data folder's socket. For the process that has the folder's lock, which is why
 * what an earlier one left there may be removed.
 *
 * @param tell told of failures that are not the asking one's
 */
export async function answerBackupRequests(
  dataDir: string,
  backups: Backups,
  tell: (error: unknown) => void,
): Promise<{ close(): Promise<void> }> {
  const path = socketPath(dataDir)
  rmSync(path, { force: true })
  const open = new Set<Socket>()
  const server = createServer((socket) => {
    open.add(socket)
    socket.once('close', () => open.delete(socket))
    socket.on('error', () => socket.destroy())
    let asked = ''
    socket.setEncoding('utf8').on('data', (text: string) => {
      asked += text
      if (asked.length > LONGEST_REQUEST) socket.destroy()
      if (!asked.includes('\n')) return
      socket.removeAllListeners('data')
      void answerFor(asked, backups, tell).then((said) => socket.end(`${JSON.stringify(said)}\n`))
    })
  })
  await new Promise<void>((resolve, reject) => {
    server.once('error', reject)
    server.listen(path, resolve)
    // bound by now, and nobody is answered before the next turn of the event loop
    chmodSync(path, 0o600)
  })
  server.unref()
  return {
    close: () =>
      new Promise((resolve) => {
        server.close(() => resolve())
        for (const socket of open) socket.destroy()
      }),
  }
}

async function answerFor(
  asked: string,
  backups: Backups,
  tell: (error: unknown) => void,
): Promise<z.infer<typeof answer>> {
  try {
    const { backup } = request.parse(JSON.parse(asked))
    return { made: await backups.make(backup) }
  } catch (error) {
    if (error instanceof BackupError) return { refused: error.message }
    tell(error)
    return { refused: 'The backup could not be made. The log of the service tells why.' }
  }
}

/**
 * Has the service that runs on this data folder make a backup.
 *
 * @param file absolute, as the service sees it
 * @returns what it made; null when no service answers there
 * @throws BackupError with the service's refusal, or when it went away meanwhile
 */
export function askForBackup(dataDir: string, file: string): Promise<BackupMade | null> {
  return new Promise((resolve, reject) => {
    let said = ''
    const socket = connect(socketPath(dataDir), () => socket.write(`${JSON.stringify({ backup: file })}\n`))
    socket.setEncoding('utf8').on('data', (text: string) => {
      said += text
    })
    socket.once('error', (error: NodeJS.ErrnoException) => {
      if (error.code === 'ENOENT' || error.code === 'ECONNREFUSED') resolve(null)
      else if (error.code === 'EACCES') reject(new BackupError('The service runs as another user: ask as that one.'))
      else reject(error)
    })
    socket.once('close', () => {
      if (!said.endsWith('\n')) return reject(new BackupError('The service stopped before the backup was made.'))
      const read = answer.parse(JSON.parse(said))
      if ('made' in read) resolve(read.made)
      else reject(new BackupError(read.refused))
    })
  })
}
