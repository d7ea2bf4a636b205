import { type ChildProcess, spawn } from 'node:child_process'
import { fileURLToPath } from 'node:url'
import { onTestFinished } from 'vitest'

export type Writer = ChildProcess & { stdout: NodeJS.ReadableStream; stderr: NodeJS.ReadableStream }

/** Starts writer.ts on the data folder, without lots to add: it opens it and stays, until the test is over. */
export function startWriter({ options }: { options: { dataDir?: string | undefined } }): Writer {
  const file = fileURLToPath(new URL('./writer.ts', import.meta.url))
  const writer = spawn(process.execPath, ['--import', 'tsx', file, options.dataDir ?? ''], {
    stdio: ['ignore', 'pipe', 'pipe'],
  })
  onTestFinished(() => {
    writer.kill('SIGKILL')
  })
  return writer
}

export function firstOutput(writer: Writer): Promise<unknown> {
  return new Promise((resolve, reject) => {
    writer.stdout.once('data', resolve)
    writer.once('exit', (code) => reject(new Error(`The writer ended with code ${code}.`)))
  })
}

export function exitCode(child: ChildProcess): Promise<number | null> {
  if (child.exitCode !== null || child.signalCode !== null) return Promise.resolve(child.exitCode)
  return new Promise((resolve) => child.once('exit', resolve))
}
