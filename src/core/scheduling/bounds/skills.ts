import type { Person, SchedulingProblem } from '../problem.ts'

/** Some skills and everyone who has at least one of them: no more heads can be at work with these skills at a time. */
export type SkillSet = { skills: Set<string>; people: Person[] }

const manySkills = 6

/**
 * The sets of skills that limit what can be done at one time, by Hall's condition (P. Hall 1935): a phase takes from a
 * set's people at least as many heads as it wants for the set's skills. Up to six skills all sets are taken; beyond
 * that each skill, each pair, what each phase wants together, and all. A set that others imply is left out: each is
 * widened by the skills that only its people have, and must hang together by people with several of its skills.
 */
export function skillSets(problem: SchedulingProblem): SkillSet[] {
  const people = problem.people ?? []
  const phases = problem.activities.flatMap((activity) => activity.phases)
  const wants = phases.map((phase) => (phase.people ?? []).filter(({ count }) => count > 0).map(({ skill }) => skill))
  const wanted = [...new Set(wants.flat())].sort()
  const found = new Map<string, SkillSet>()
  for (const skills of candidates(wanted, wants)) {
    const able = people.filter((person) => person.skills.some((skill) => skills.has(skill)))
    const others = people.filter((person) => !able.includes(person))
    const widened = new Set(
      wanted.filter((skill) => skills.has(skill) || !others.some((person) => person.skills.includes(skill))),
    )
    if (hangsTogether(skills, able)) found.set([...widened].join('\n'), { skills: widened, people: able })
  }
  return [...found.values()]
}

function candidates(wanted: string[], wants: string[][]): Set<string>[] {
  if (wanted.length <= manySkills)
    return Array.from({ length: 2 ** wanted.length - 1 }, (_, mask) => {
      return new Set(wanted.filter((_, bit) => ((mask + 1) >> bit) & 1))
    })
  return [
    ...wanted.map((skill) => new Set([skill])),
    ...wanted.flatMap((one, index) => wanted.slice(index + 1).map((other) => new Set([one, other]))),
    ...[...new Map(wants.map((skills) => [[...new Set(skills)].sort().join('\n'), new Set(skills)])).values()],
    new Set(wanted),
  ]
}

/** Whether the skills cannot be parted into two that no person has both of; parted they say more. */
function hangsTogether(skills: Set<string>, able: Person[]): boolean {
  const [first] = skills
  if (first === undefined) return false
  const reached = new Set([first])
  for (let before = 0; before < reached.size; ) {
    before = reached.size
    for (const person of able)
      if (person.skills.some((skill) => reached.has(skill)))
        for (const skill of person.skills) if (skills.has(skill)) reached.add(skill)
  }
  return reached.size === skills.size
}
