import { conflict } from '../../../errors.ts'
import type { Writing } from '../../changes/index.ts'
import { type EntryKind, undoEntry } from '../ledger.ts'
import { type Entry, findEntry } from './queries.ts'

/** What is written on the shelf itself and can be taken back there; the others belong to a batch or a sharing. */
const undoneHere: readonly EntryKind[] = ['take', 'move', 'give', 'break', 'count', 'buy', 'return']

/** Whether an entry may be taken back from the shelf: its kind allows it, it holds still, and it moved something. */
export function mayBeUndone({ kind, undone, units }: Pick<Entry, 'kind' | 'undone' | 'units'>): boolean {
  return undoneHere.includes(kind) && !undone && units !== 0
}

/**
 * Takes an entry back, a movement with both its sides.
 *
 * @returns the entry that was taken back
 * @throws conflict where it was taken back already, what it brought is gone, or a batch or a sharing wrote it
 */
export async function undoOnShelf(writing: Writing, entryId: string): Promise<Entry> {
  const entry = await findEntry(writing.transaction, writing.asking, entryId)
  if (['put', 'use', 'share'].includes(entry.kind))
    throw conflict('A batch or a sharing wrote this entry: it cannot be taken back by itself.')
  await undoEntry(writing, entryId)
  return entry
}
