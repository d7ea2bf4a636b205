import { execFileSync } from 'node:child_process'
import { readdirSync, readFileSync, statSync } from 'node:fs'
import { basename, join } from 'node:path'
import type { SchedulingProblem } from '../../src/core/scheduling/index.ts'

export type Instance = { name: string; problem: SchedulingProblem }

/** Every .sm file of a directory or of a .tar.gz, by name. */
export function readInstances(path: string): Instance[] {
  const texts = statSync(path).isDirectory() ? fromDirectory(path) : fromArchive(path)
  return texts
    .map(({ name, text }) => ({ name: name.replace(/\.sm$/, ''), problem: parseSm(text) }))
    .sort((a, b) => a.name.localeCompare(b.name, 'en', { numeric: true }))
}

/** A single-mode instance with renewable resources in the format of the project scheduling problem library. */
export function parseSm(text: string): SchedulingProblem {
  const lines = text.split(/\r?\n/)
  const numbersAfter = (title: string, skip: number) => {
    const start = lines.findIndex((line) => line.startsWith(title))
    if (start < 0) throw new Error(`no section "${title}"`)
    const rows: number[][] = []
    for (const line of lines.slice(start + 1 + skip)) {
      if (/^\*/.test(line)) break
      if (line.trim() !== '') rows.push(line.trim().split(/\s+/).map(Number))
    }
    return rows
  }
  const successors = numbersAfter('PRECEDENCE RELATIONS', 1)
  const requests = numbersAfter('REQUESTS/DURATIONS', 2)
  const capacities = numbersAfter('RESOURCEAVAILABILITIES', 1)[0] ?? []
  const before = new Map<number, number[]>()
  for (const [job = 0, , , ...following] of successors)
    for (const other of following) before.set(other, [...(before.get(other) ?? []), job])
  return {
    resources: capacities.map((capacity, index) => ({ id: `R${index + 1}`, capacity })),
    activities: requests.map(([job = 0, , minutes = 0, ...units]) => ({
      id: String(job),
      phases: [{ minutes, resources: Object.fromEntries(units.map((unit, index) => [`R${index + 1}`, unit])) }],
      after: (before.get(job) ?? []).map((id) => ({ id: String(id) })),
    })),
  }
}

function fromDirectory(path: string) {
  return readdirSync(path)
    .filter((name) => name.endsWith('.sm'))
    .map((name) => ({ name, text: readFileSync(join(path, name), 'utf8') }))
}

function fromArchive(path: string) {
  const names = execFileSync('tar', ['tzf', path], { encoding: 'utf8' })
    .split('\n')
    .filter((name) => name.endsWith('.sm'))
  // One call for all: each file is preceded by nothing, so they are told apart by their sizes from the verbose list.
  const sizes = execFileSync('tar', ['tvzf', path], { encoding: 'utf8' })
    .split('\n')
    .filter((line) => line.endsWith('.sm'))
    .map((line) => Number(line.trim().split(/\s+/)[2]))
  const whole = execFileSync('tar', ['xzOf', path, ...names], { maxBuffer: 1 << 28 })
  let at = 0
  return names.map((name, index) => {
    const text = whole.subarray(at, at + (sizes[index] ?? 0)).toString('utf8')
    at += sizes[index] ?? 0
    return { name: basename(name), text }
  })
}
