import { z } from 'zod'
import { type Method, methods } from '../../../core/produce/vocabulary.ts'
import { isCanned } from '../../../core/recipes/index.ts'

/** What a recall has to know of a batch's process record: whether it vouches for jars on a shelf. */
const processSummary = z.object({ shelfStable: z.boolean() })
export type ProcessSummary = z.output<typeof processSummary>

/**
 * Reads a stored process record; null for none.
 *
 * @throws Error for a record that was not written by this program
 */
export function readProcess(stored: unknown): ProcessSummary | null {
  return stored === null ? null : processSummary.parse(stored)
}

/** Why botulism is to be thought of, where jars of this kind may not have been made safe to keep; null: no reason is known. */
export type Doubt = 'low-acid' | 'departed' | 'not-noted'

/**
 * Canned food of low acid always; other canned food where its process departed from the tested one, or none was noted.
 *
 * @param process null: nobody noted one
 */
export function doubtOf(method: string, process: ProcessSummary | null): Doubt | null {
  const known: Method | undefined = methods.find((one) => one === method)
  if (known === 'pressure-canned') return 'low-acid'
  if (known === undefined || !isCanned(known)) return null
  if (process === null) return 'not-noted'
  return process.shelfStable ? null : 'departed'
}
