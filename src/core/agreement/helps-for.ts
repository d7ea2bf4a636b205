import type { Question } from '../division/question.ts'
import { type EquipmentKind, equipmentKinds, type WorkKind, workKinds } from '../produce/vocabulary.ts'
import type { Pack, Recipe } from '../recipes/recipe.ts'
import type { Help } from './help.ts'

/** How much more of each is tried. Our choice: a small chest of a freezer, an hour, and a pair of friends. */
const moreFreezerMl = 50_000
const moreMinutes = 60
const moreAdults = [1, 2]
/** A helper who comes for the day is shown this many kinds of work. Our choice. */
const skillsAtMost = 2
const minutesOfADay = 24 * 60

/**
 * What is worth trying for a plan: one more of each kind of machine that its wishes take (there or not), more freezer
 * where something is frozen, an hour more on each day on which somebody stays until closing and it is not midnight, and
 * one or two more adults for the work of which there is most.
 *
 * @param minutes of hands by kind of work, as the timetable has them; where it has none: the kinds that the wishes take
 */
export function helpsFor(question: Question, minutes: Readonly<Partial<Record<WorkKind, number>>>): Help[] {
  const wished = wishedPacks(question)
  const machines = equipmentKinds.filter((kind) => kind !== 'freezer' && wished.some((one) => takes(one, kind)))
  const skills = mostUsed(wished, minutes)
  return [
    ...machines.map((machine): Help => ({ kind: 'machine', machine })),
    ...(wished.some(({ pack }) => pack.freezerMl > 0) ? [{ kind: 'freezer' as const, ml: moreFreezerMl }] : []),
    ...question.days.flatMap(({ id, closesMinute }, day): Help[] => {
      const stays = question.helpers.some(({ hours }) =>
        hours.some(({ dayId, toMinute }) => dayId === id && toMinute >= closesMinute),
      )
      return stays && closesMinute + moreMinutes <= minutesOfADay ? [{ kind: 'hours', day, minutes: moreMinutes }] : []
    }),
    ...(skills.length === 0 ? [] : moreAdults.map((count): Help => ({ kind: 'hands', skills, count }))),
  ]
}

type Wished = { definition: Recipe['definition']; pack: Pack }

function wishedPacks({ wishes, recipes }: Question): Wished[] {
  return wishes.flatMap(({ recipeId, pack: key, atMost }) => {
    const definition = recipes.find(({ id }) => id === recipeId)?.definition
    const pack = definition?.packs.find((one) => one.key === key)
    return definition && pack && atMost > 0 ? [{ definition, pack }] : []
  })
}

function takes({ definition, pack }: Wished, kind: EquipmentKind): boolean {
  return (
    pack.machineMinutesPerUnit[kind] !== undefined ||
    pack.runs.some(({ machineMinutes }) => machineMinutes[kind] !== undefined) ||
    definition.steps.some(({ equipment }) => equipment.includes(kind))
  )
}

/** The kinds of work with most minutes, most first; where nothing is done yet those that the wishes' steps take. */
function mostUsed(wished: readonly Wished[], minutes: Readonly<Partial<Record<WorkKind, number>>>): WorkKind[] {
  const of = (kind: WorkKind) => minutes[kind] ?? 0
  const used = workKinds.filter((kind) => of(kind) > 0).sort((a, b) => of(b) - of(a))
  if (used.length > 0) return used.slice(0, skillsAtMost)
  return workKinds.filter((kind) => wished.some(({ definition }) => definition.steps.some(({ work }) => work === kind)))
}
