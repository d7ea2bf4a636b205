import type { LocalProcess } from '../process/local.ts'
import { lookUpProcess } from '../process/lookup.ts'
import {
  checkRecord,
  type Interruption,
  type ProcessRecord,
  type RecordProblemKind,
  type SealCheck,
} from '../process/record.ts'
import type { Gauge, JarSize, ProcessMethod, TestedProcess } from '../process/types.ts'
import type { PackVerdict, ProcessClaim } from '../recipes/index.ts'

/** What somebody wrote down at the canner, before it is held against a process. Instants are ISO 8601 with their zone. */
export type NotedProcess = {
  method: ProcessMethod
  canner: string
  /** When the full boil, or the pressure, was reached, and when the heat went off; null: nobody noted it. */
  reachedAt: string | null
  endedAt: string | null
  interruptions: Interruption[]
  ventedMinutes: number | null
  lowestKPa: number | null
  headspaceMm: number | null
  /** The acid that the process asks for was measured into each jar. */
  acidAdded: boolean
  by: string[]
  seals: SealCheck | null
}

/** What a canned batch is, beside what was noted. */
export type CannedBatch = {
  recipe: { id: string; version: number }
  verdict: Pick<PackVerdict, 'shelfStable' | 'departures' | 'local'>
  claim: ProcessClaim | null
  jar: JarSize | null
  jarsIn: number
  altitudeM: number
  notes: string
}

export type BatchProblemKind =
  | RecordProblemKind
  | 'recipe-departs'
  | 'no-process'
  | 'times-missing'
  | 'less-headspace'
  | 'no-acid'

/** Something that differs from the tested process, or is not known. `at`: where in `NotedProcess`; `recipe` for the recipe's own. */
export type BatchProblem = { kind: BatchProblemKind; at: string; says: string }

/** What a batch is held against: minutes, pressure, headspace and acid as they were due. */
export type DueProcess = { tested: TestedProcess } | { local: LocalProcess }

export type Judged = {
  due: DueProcess | null
  record: ProcessRecord | null
  problems: BatchProblem[]
  /** Nothing keeps it off a shelf. What is only not known yet (seals that are still to be tried) does not. */
  shelfStable: boolean
}

/** What is told and does not keep jars off the shelf: their seals can still be tried, or are of jars that never stand there. */
const toldOnly: readonly BatchProblemKind[] = ['seals-not-checked', 'seals-checked-early', 'kept-late']
/** A tenth of a millimetre: 12.7 mm are half an inch, and people write 13 or 12.7. */
const headspaceSlackMm = 0.1

/**
 * Holds a canned batch against the tested process of its recipe, looked up for the way in which it was heated. One
 * departure is enough to keep it off the shelf: of the recipe, of the process, or a figure that nobody noted.
 */
export function judgeBatch(batch: CannedBatch, noted: NotedProcess): Judged {
  const problems: BatchProblem[] = batch.verdict.departures.map(({ says }) => ({
    kind: 'recipe-departs',
    at: 'recipe',
    says,
  }))
  const due = dueFor(batch, noted.method)
  if (due === null) {
    problems.push({
      kind: 'no-process',
      at: 'method',
      says: 'No tested process is known for this recipe in these jars, heated like this, at this altitude.',
    })
    return { due, record: null, problems, shelfStable: false }
  }
  problems.push(...notedProblems(noted, due))
  const record = recordOf(batch, noted, due)
  if (record === null) {
    const says = 'Note when the full boil or the pressure was reached, and when the heat went off.'
    problems.push({ kind: 'times-missing', at: noted.reachedAt === null ? 'reachedAt' : 'endedAt', says })
  } else problems.push(...checkRecord(record, 'tested' in due ? due.tested : due.local))
  const shelfStable = batch.verdict.shelfStable && problems.every(({ kind }) => toldOnly.includes(kind))
  return { due, record, problems, shelfStable }
}

/** The process that a recipe follows when its jars are heated this way; null where none is tested. */
export function dueFor({ verdict, claim, jar, altitudeM }: CannedBatch, method: ProcessMethod): DueProcess | null {
  if (verdict.local !== null) return { local: verdict.local }
  if (claim === null || jar === null) return null
  const { product, form, pack } = claim
  const answer = lookUpProcess({ product, form: form ?? undefined, pack, jar, altitudeM, method })
  return answer.answer === 'tested' ? { tested: answer } : null
}

/** Headspace and acid, of which a record has no word. */
function notedProblems(noted: NotedProcess, due: DueProcess): BatchProblem[] {
  const problems: BatchProblem[] = []
  const dueMm = 'tested' in due ? due.tested.headspaceMm : due.local.headspaceMm
  if (dueMm !== null && noted.headspaceMm === null) {
    problems.push({
      kind: 'less-headspace',
      at: 'headspaceMm',
      says: `Note the headspace: ${rounded(dueMm)} mm is due.`,
    })
  } else if (dueMm !== null && noted.headspaceMm !== null && noted.headspaceMm < dueMm - headspaceSlackMm) {
    const says = `${rounded(dueMm)} mm of headspace is due; ${rounded(noted.headspaceMm)} mm was left.`
    problems.push({ kind: 'less-headspace', at: 'headspaceMm', says })
  }
  const acidDue = 'tested' in due ? due.tested.acid.length > 0 : due.local.acid !== ''
  if (acidDue && !noted.acidAdded) {
    const says = 'Acid must be measured into each jar of this, and it is not noted that it was.'
    problems.push({ kind: 'no-acid', at: 'acidAdded', says })
  }
  return problems
}

function recordOf(batch: CannedBatch, noted: NotedProcess, due: DueProcess): ProcessRecord | null {
  const { jar, claim } = batch
  const { reachedAt, endedAt } = noted
  if (reachedAt === null || endedAt === null || jar === null || claim === null) return null
  return {
    recipe: batch.recipe,
    process: 'tested' in due ? { kind: 'row', id: due.tested.row.id } : { kind: 'local', id: due.local.id },
    method: noted.method,
    pack: claim.pack,
    altitudeM: batch.altitudeM,
    jar,
    jarsIn: batch.jarsIn,
    canner: noted.canner,
    gauge: gaugeOf(noted.method),
    ventedMinutes: noted.ventedMinutes,
    reachedAt,
    endedAt,
    lowestKPa: noted.lowestKPa,
    interruptions: noted.interruptions,
    by: noted.by,
    seals: noted.seals,
    notes: batch.notes,
  }
}

function gaugeOf(method: ProcessMethod): Gauge | null {
  if (method === 'dial-gauge') return 'dial'
  return method === 'weighted-gauge' ? 'weighted' : null
}

function rounded(mm: number): string {
  return `${Math.round(mm * 10) / 10}`
}
