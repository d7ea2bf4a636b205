import { createHash } from 'node:crypto'
import { hostname } from 'node:os'

// Names of what a test run makes outside its own process (folders, databases), so that a later run can tell what a
// killed one left behind: glutworks_test_<host>_<process id>_<when, seconds in base 36>_<what>

const DAY_SECONDS = 24 * 60 * 60
const HOST = createHash('sha256').update(hostname()).digest('hex').slice(0, 6)

/** The beginning of this process's names. */
export function runName(now: Date = new Date()): string {
  return `glutworks_test_${HOST}_${process.pid}_${toSeconds(now).toString(36)}`
}

/** True for a name of a run that is over: its process is gone from this host, or it began more than a day ago. */
export function isLeftOver(name: string, now: Date = new Date()): boolean {
  const match = /^glutworks_test_([0-9a-f]{6})_(\d+)_([0-9a-z]+)(_|$)/.exec(name)
  if (match === null) return false
  const [, host, pid, began] = match
  if (toSeconds(now) - Number.parseInt(began ?? '0', 36) > DAY_SECONDS) return true
  return host === HOST && !isRunning(Number(pid))
}

function toSeconds(date: Date): number {
  return Math.floor(date.getTime() / 1000)
}

function isRunning(pid: number): boolean {
  try {
    process.kill(pid, 0)
    return true
  } catch (error) {
    // EPERM: it runs, as somebody else.
    return error instanceof Error && 'code' in error && error.code === 'EPERM'
  }
}
