import type { Judged } from '../../core/batches/index.ts'
import type { UnsealedJarsWent } from '../../core/process/record.ts'
import type { Making } from './making.ts'

/** The form's field for a place in a process record, as `checkRecord` names it. */
export function processField(at: string): string {
  if (at.startsWith('interruptions')) return at.endsWith('lostAt') ? 'process.lostAt' : 'process.againAt'
  if (at.startsWith('seals.notSealed')) return 'unsealedWent'
  if (at.startsWith('seals')) return 'process.sealsOn'
  return fields[at] ?? 'process.method'
}

const fields: Record<string, string> = {
  method: 'process.method',
  canner: 'process.canner',
  by: 'process.by',
  reachedAt: 'process.reachedAt',
  endedAt: 'process.endedAt',
  ventedMinutes: 'process.vented',
  lowestKPa: 'process.pressure',
  headspaceMm: 'process.headspace',
  acidAdded: 'process.acid',
  jarsIn: 'units',
}

const defer =
  'Choose a refrigerator or freezer, and ask your local extension service or food authority before you keep it any other way.'

/** Why canned food is refused a place on a shelf: what differs, and what to do. `judged` null: nobody noted a process. */
export function departureWords({ verdict }: Making, judged: Judged | null): string {
  const [departure] = verdict.departures
  if (!verdict.shelfStable) {
    const why = departure?.says ?? 'No tested process is known for it.'
    return `Not for a shelf: this recipe follows no tested process here. ${why} ${defer}`
  }
  if (judged === null) return `Not for a shelf without its process record: note how it was processed. ${defer}`
  const first = judged.problems.find(({ kind }) => kind !== 'seals-not-checked' && kind !== 'seals-checked-early')
  return `Not for a shelf: it is not shown to follow the tested process. ${first?.says ?? ''} ${defer}`
}

export const wentWords: Record<UnsealedJarsWent, string> = {
  refrigerated: 'in the refrigerator, to eat soon',
  frozen: 'frozen',
  reprocessed: 'processed again within 24 hours, and sealed then',
  eaten: 'eaten',
  discarded: 'thrown away',
}
