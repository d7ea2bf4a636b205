import { dateAfter } from '../../core/produce/dates.ts'
import type { CoopWays } from '../../web/asking.ts'
import { type Formatter, formatFor } from '../../web/format.ts'
import { calendarsPath } from '../calendars/paths.ts'
import { newSlowJobPath, slowJobPath, slowJobsPath } from './paths.ts'
import type { OpenSlowJob, SlowJobHead } from './queries.ts'
import { dueWords, kindWords } from './words.ts'

/** What is due within so many days is due soon. */
const soonDays = 7

export type ListFacts = {
  today: string
  open: readonly OpenSlowJob[]
  ended: { jobs: readonly SlowJobHead[]; more: boolean }
  /** Of the ended ones, from 1. */
  page: number
}

/** What is due, what will be soon, what goes on, what ended. */
export function slowJobsPage({ today, open, ended, page }: ListFacts, coop: CoopWays) {
  const format = formatFor(coop)
  const soon = dateAfter(today, soonDays)
  const rows = (which: (dueOn: string) => boolean) =>
    open.filter(({ next }) => which(next?.dueOn ?? '9')).map((job) => rowOf(job, today, format))
  const due = rows((dueOn) => dueOn <= today)
  return {
    title: 'Slow jobs',
    place: 'shelf' as const,
    sentence: sentenceOf(open.length, due.length, format),
    groups: [
      { id: 'due', heading: 'Due now', rows: due, isDue: true },
      { id: 'soon', heading: 'Soon', rows: rows((dueOn) => dueOn > today && dueOn <= soon), isDue: false },
      { id: 'going', heading: 'Going on', rows: rows((dueOn) => dueOn > soon), isDue: false },
    ].filter((group) => group.rows.length > 0),
    ended: ended.jobs.map((job) => ({
      href: slowJobPath(job.id),
      name: job.name,
      says: `${job.endedOn === null ? '' : format.date(job.endedOn)}: ${job.ended ?? ''}`,
    })),
    newer: page > 1 ? `${slowJobsPath()}?page=${page - 1}` : '',
    older: ended.more ? `${slowJobsPath()}?page=${page + 1}` : '',
    add: newSlowJobPath(),
    calendars: calendarsPath(),
  }
}

function rowOf(job: OpenSlowJob, today: string, format: Formatter) {
  const { id, name, kind, place, next } = job
  return {
    href: slowJobPath(id),
    name,
    kind: place === null ? kindWords[kind] : `${kindWords[kind]}, ${place}`,
    says: next === null ? 'All stages are done: end it, or add one.' : next.says,
    due: next === null ? '' : dueWords(next.dueOn, today, format),
  }
}

function sentenceOf(open: number, due: number, format: Formatter): string {
  if (open === 0) return 'Nothing stands and waits.'
  const going = `${format.count(open, 'slow job goes', 'slow jobs go')} on`
  return due === 0
    ? `${going}; none needs anybody today.`
    : `${going}; ${format.count(due, 'needs', 'need')} somebody now.`
}
