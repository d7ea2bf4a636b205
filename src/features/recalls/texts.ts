import type { RecalledBatch } from './queries.ts'
import { type Doubt, doubtOf } from './trace/making.ts'

/** What a recall asks for, filled in beforehand; whoever writes it may change it. */
export const standardTodo = [
  'Do not taste it and do not open it, however good it looks and smells.',
  'Keep the jars apart from other food, upright and marked, where nobody takes one by mistake, until you hear what becomes of them.',
  'If some was given on to others, tell them too.',
].join(' ')

/**
 * What must be said beside every recall in which canned food may hold the toxin of botulism; '' where nothing points to
 * it. Signs and advice as food authorities publish them (botulism, home-canned foods): from memory, not read again.
 */
export function botulismCaution(batches: readonly Pick<RecalledBatch, 'method' | 'process'>[]): string {
  const doubts = new Set(batches.map(({ method, process }) => doubtOf(method, process)))
  const why = (['low-acid', 'departed', 'not-noted'] as const)
    .filter((doubt) => doubts.has(doubt))
    .map((doubt) => because[doubt])
  if (why.length === 0) return ''
  return [
    `${why.join(' ')} Such food can carry the poison of botulism without any sign: a taste can be enough to kill.`,
    'Whoever ate of it and sees blurred or double, has drooping eyelids, slurred speech, trouble swallowing or weak muscles needs a doctor at once: call the emergency number.',
    'Do not open or empty the jars, and do not pour anything down a drain: ask the local health authority how to dispose of them.',
  ].join(' ')
}

const because: Record<Doubt, string> = {
  'low-acid': 'There is canned food of low acid among it.',
  departed: 'There is canned food among it whose process departed from the tested one.',
  'not-noted': 'There is canned food among it for which no process was noted.',
}

/** Stands beside every recall. */
export const healthAuthority =
  'The local health authority has the last word. Tell it where somebody may have fallen ill, and do what it says, even where this page says otherwise.'

/** What is kept of the two fields: what to do, and whom to tell. */
export function todoOf({ todo, reach }: { todo: string; reach: string }, steward: string): string {
  return `${todo}\nTell ${steward} how many you have: ${reach}`
}
