import { randomUUID } from 'node:crypto'
import { rmSync } from 'node:fs'
import { connect, createServer, type Server } from 'node:net'
import { join } from 'node:path'
import { setTimeout as sleep } from 'node:timers/promises'

/** Held as long as the process lives, or until it is released. */
export type FolderLock = { release(): Promise<void> }

/** Another process has the data folder open, or the folder cannot be locked at all. The message is for the operator. */
export class FolderLockError extends Error {
  override readonly name = 'FolderLockError'
}

/**
 * Makes sure that this is the only process that works on the folder. PGlite itself does not look: two processes on one
 * folder silently lose each other's writes.
 *
 * The lock is a listening Unix socket in the folder, so that it ends with its holder, however that ends: what a killed
 * process leaves behind answers nobody, and is cleared. It works for processes on one host, containers included, not
 * across a network file system.
 *
 * @param folder an existing folder
 * @throws FolderLockError when another process holds it (with its process id when it answers), or the path is too long
 */
export async function lockFolder(folder: string): Promise<FolderLock> {
  const path = join(folder, 'lock.sock')
  // A socket's path has 108 bytes with the closing zero (sys/un.h, Linux); a longer one would be cut short silently.
  if (Buffer.byteLength(path) > 107) {
    throw new FolderLockError(`The data folder's path is too long to lock (${path}): choose one of at most 97 bytes.`)
  }
  const me = `${process.pid} ${randomUUID()}`
  const server = await listen(path, me)
  if (server !== undefined) return held(server)

  const holder = await askHolder(path)
  if (holder.alive) throw inUse(folder, holder.answer)

  rmSync(path, { force: true })
  const second = await listen(path, me)
  if (second === undefined) throw inUse(folder, (await askHolder(path)).answer)
  // Two processes may find the same dead lock, and one of them remove the other's new one. After a moment the socket
  // in the folder is one process's, and the other gives way (without closing its own, which would remove the winner's).
  await sleep(TAKEOVER_SETTLE_MS)
  const winner = await askHolder(path)
  if (winner.answer !== me) throw inUse(folder, winner.answer)
  return held(second)
}

const TAKEOVER_SETTLE_MS = 250
const ANSWER_WITHIN_MS = 1_000

type Holder = { alive: boolean; answer: string }

/** Undefined when the path is taken already, by a live process or by a dead one's leaving. */
function listen(path: string, me: string): Promise<Server | undefined> {
  return new Promise((resolve, reject) => {
    const server = createServer((socket) => {
      socket.on('error', () => socket.destroy())
      socket.end(me)
    })
    server.once('error', (error: NodeJS.ErrnoException) => {
      if (error.code === 'EADDRINUSE') resolve(undefined)
      else reject(new FolderLockError(`The data folder cannot be locked: ${error.message}`, { cause: error }))
    })
    server.listen(path, () => {
      server.unref()
      resolve(server)
    })
  })
}

/** A holder that takes the connection but does not answer in time (stopped, or busy) is alive all the same. */
function askHolder(path: string): Promise<Holder> {
  return new Promise((resolve) => {
    let answer = ''
    let connected = false
    const socket = connect(path, () => {
      connected = true
    })
    const done = () => {
      socket.destroy()
      resolve({ alive: connected, answer })
    }
    socket.setTimeout(ANSWER_WITHIN_MS, done)
    socket.setEncoding('utf8').on('data', (text: string) => {
      answer += text
    })
    socket.once('error', done)
    socket.once('end', done)
  })
}

function inUse(folder: string, answer: string): FolderLockError {
  const pid = /^\d+/.exec(answer)?.[0]
  const who = pid === undefined ? 'another process, which does not answer' : `process ${pid}`
  return new FolderLockError(
    `The data folder ${folder} is in use by ${who}. Two processes on one folder would lose each other's work: stop that one first, or give this one another folder.`,
  )
}

function held(server: Server): FolderLock {
  return {
    release: () =>
      new Promise((resolve, reject) => {
        // Closing removes the socket from the folder.
        server.close((error) => (error === undefined ? resolve() : reject(error)))
      }),
  }
}
