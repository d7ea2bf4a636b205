import { dateAfter } from '../produce/dates.ts'
import { dryingWays } from './dryings.ts'
import { fermentWays } from './ferments.ts'
import type { Given, SlowKind, StageTemplate, Way } from './stage.ts'
import { ageingWays, maceratingWays } from './standings.ts'
import { vinegarWays } from './vinegars.ts'

/** All ways of doing a slow job, by kind. */
export const ways: readonly Way[] = [...vinegarWays, ...fermentWays, ...dryingWays, ...maceratingWays, ...ageingWays]

/** A stage of one job: its template with the day (ISO date) on which it is due. */
export type DatedStage = StageTemplate & { dueOn: string }
export type Stages = { ok: true; stages: DatedStage[] } | { ok: false; says: string }

/**
 * The stages of a job that starts on an ISO date, in order; or, in words, why it may not be begun at that temperature.
 * @param temperatureC degrees Celsius of the place where it stands; not given or null: the warmest that is published
 * @throws RangeError for a way that is not known or a date that does not exist
 */
export function stagesFor(wayId: string, of: { startedOn: string } & Partial<Given>): Stages {
  const way = ways.find(({ id }) => id === wayId)
  if (way === undefined) throw new RangeError(`no slow job: ${wayId.slice(0, 40)}`)
  const templates = way.stages({ temperatureC: of.temperatureC ?? null })
  if ('refused' in templates) return { ok: false, says: templates.refused }
  const due = new Map<number | 'start', string>([['start', dateAfter(of.startedOn, 0)]])
  const stages = templates.map((template) => {
    const from = due.get(template.after)
    if (from === undefined) throw new Error(`stage ${template.number} comes before what it is counted from`)
    const dueOn = dateAfter(from, template.days)
    due.set(template.number, dueOn)
    return { ...template, dueOn }
  })
  return { ok: true, stages }
}

/** The way that a job of this kind follows, by the numbers of its stages; null: none of them is of a template. */
export function wayOf(kind: SlowKind, numbers: readonly number[]): Way | null {
  return (
    ways.find((way) => way.kind === kind && templatesOf(way).some(({ number }) => numbers.includes(number))) ?? null
  )
}

/** The template that a stage of a kind of job was made from; null for a stage of one's own. */
export function templateOf(kind: SlowKind, number: number): StageTemplate | null {
  const way = wayOf(kind, [number])
  return way === null ? null : (templatesOf(way).find((template) => template.number === number) ?? null)
}

/**
 * The numbers of the open stages that move with one that is done on another day than it was due: those whose days are
 * counted from it, and from these in turn. What is counted from the start stays where it is.
 */
export function movingWith(kind: SlowKind, number: number, open: readonly number[]): number[] {
  const moving = [number]
  // a template names what it is counted from before itself, so that one pass in its order finds all
  const way = wayOf(kind, [number])
  for (const template of way === null ? [] : templatesOf(way)) {
    const { after } = template
    if (after !== 'start' && moving.includes(after) && open.includes(template.number)) moving.push(template.number)
  }
  return moving.slice(1)
}

/** A way's stages where nothing is given, which no way refuses. */
function templatesOf(way: Way): readonly StageTemplate[] {
  const templates = way.stages({ temperatureC: null })
  return 'refused' in templates ? [] : templates
}
