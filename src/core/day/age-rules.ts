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
