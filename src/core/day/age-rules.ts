import type { AgeBand, WorkKind } from '../produce/vocabulary.ts'

/**
 * Work that each age band may be given at all. A child is kept from boiling water, pressure, hot filling and knives;
 * a teen works at the stove and at hot filling only beside an adult, which the timetable sees to, not this table.
 * Common practice for work with children in a kitchen; local rules and the adults present go before it.
 */
const allowed: Record<AgeBand, readonly WorkKind[]> = {
  child: ['wash', 'pack'],
  teen: ['wash', 'cut', 'stove', 'fill', 'pack'],
  adult: ['wash', 'cut', 'stove', 'fill', 'pack'],
}

/** The skills of a helper that the age band leaves standing, in the vocabulary's order. */
export function allowedSkills(ageBand: AgeBand, skills: readonly WorkKind[]): WorkKind[] {
  return allowed[ageBand].filter((kind) => skills.includes(kind))
}

/**
 * What a person may be asked for in a timetable. A kind of work by its name is work that is neither hot nor under
 * pressure; `hot:` is the same work beside boiling water, steam or hot jars, for teens and adults; `adult:` is the grown
 * person who must be in each hot piece of work; `any` is what everyone can do.
 */
export type Skill = WorkKind | `hot:${WorkKind}` | `adult:${WorkKind}` | 'any'

/** The skills that a helper brings to a timetable: those that the age band leaves standing, hot work by age. */
export function timetableSkills(ageBand: AgeBand, skills: readonly WorkKind[]): Skill[] {
  const kinds = allowedSkills(ageBand, skills)
  return [
    'any',
    ...kinds,
    ...(ageBand === 'child' ? [] : kinds.map((kind): Skill => `hot:${kind}`)),
    ...(ageBand === 'adult' ? kinds.map((kind): Skill => `adult:${kind}`) : []),
  ]
}

/**
 * Whom a piece of work takes: `count` people (at least 1) at the same time. One of those at hot work is an adult, so
 * that a teen is never at the stove, the canner or hot filling without one, and a child is never there.
 */
export function crewFor(work: WorkKind, count: number, hot: boolean): { skill: Skill; count: number }[] {
  if (!hot) return [{ skill: work, count }]
  const adult: { skill: Skill; count: number } = { skill: `adult:${work}`, count: 1 }
  return count > 1 ? [adult, { skill: `hot:${work}`, count: count - 1 }] : [adult]
}
