import { type ChildProcess, spawn } from 'node:child_process'
import { mkdtempSync, rmSync } from 'node:fs'
import { createServer } from 'node:net'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'

const root = fileURLToPath(new URL('../..', import.meta.url))

/** The real program in a process of its own, on the embedded database in a folder of its own, with the demonstration loaded. */
export type RunningService = {
  address: string
  /** Of its process. */
  pid: number
  /** Ends it as an operator would, and removes its folder unless that was given. */
  stop(): Promise<void>
  /** Ends it without a word, as a power cut would; the folder stays. */
  kill(): Promise<void>
  output(): string
}

/** Starts it on a port of its own (a given DATA_DIR is used and left there) and answers once it is ready; throws with what it printed if it is not within two minutes. */
export async function startService(settings: Record<string, string> = {}): Promise<RunningService> {
  const dataDir = settings['DATA_DIR'] ?? mkdtempSync(join(tmpdir(), 'glutworks-service-'))
  const port = await freePort()
  const child = spawn(process.execPath, ['--import', 'tsx', 'src/main.ts'], {
    cwd: root,
    env: {
      ...process.env,
      NODE_ENV: 'production',
      PORT: port,
      HOST: '127.0.0.1',
      DATA_DIR: dataDir,
      REQUESTS_PER_MINUTE: '0',
      ...settings,
    },
    stdio: ['ignore', 'pipe', 'pipe'],
  })
  let printed = ''
  child.stdout.on('data', (chunk) => {
    printed += chunk
  })
  child.stderr.on('data', (chunk) => {
    printed += chunk
  })
  const address = `http://127.0.0.1:${port}`
  await untilReady(address, child, () => printed)
  return {
    address,
    pid: child.pid ?? 0,
    output: () => printed,
    stop: async () => {
      await end(child)
      if (settings['DATA_DIR'] === undefined) rmSync(dataDir, { recursive: true, force: true })
    },
    kill: () =>
      new Promise((resolve) => {
        child.once('exit', () => resolve())
        child.kill('SIGKILL')
      }),
  }
}

/** A port that the system gave out a moment ago. */
function freePort(): Promise<string> {
  return new Promise((resolve, reject) => {
    const probe = createServer()
    probe.once('error', reject)
    probe.listen(0, '127.0.0.1', () => {
      const address = probe.address()
      probe.close(() => resolve(String(typeof address === 'object' && address !== null ? address.port : 0)))
    })
  })
}

async function untilReady(address: string, child: ChildProcess, printed: () => string): Promise<void> {
  const deadline = Date.now() + 120_000
  while (Date.now() < deadline) {
    if (child.exitCode !== null || child.signalCode !== null)
      throw new Error(`the service ended with ${child.exitCode ?? child.signalCode}:\n${printed()}`)
    const answer = await fetch(`${address}/ready`).catch((error: unknown) => {
      // Not listening yet; anything else is told when the time is up.
      if (error instanceof TypeError) return null
      throw error
    })
    if (answer?.ok) return
    await new Promise((resolve) => setTimeout(resolve, 200))
  }
  child.kill('SIGKILL')
  throw new Error(`the service was not ready within two minutes:\n${printed()}`)
}

function end(child: ChildProcess): Promise<void> {
  return new Promise((resolve) => {
    if (child.exitCode !== null || child.signalCode !== null) return resolve()
    child.once('exit', () => resolve())
    child.kill('SIGTERM')
    setTimeout(() => child.kill('SIGKILL'), 12_000).unref()
  })
}
