import { describe, expect, test } from 'vitest'
import { activitiesOf } from '../../../src/core/day/activities.ts'
import type { Batch } from '../../../src/core/day/batch.ts'
import type { DayPlan } from '../../../src/core/day/plan.ts'
import { type Entry, timetableOf } from '../../../src/core/day/timetable.ts'
import type { Question } from '../../../src/core/division/index.ts'
import { ageBands, type EquipmentKind, stations, workKinds } from '../../../src/core/produce/vocabulary.ts'
import { starters } from '../../../src/core/recipes/starters/index.ts'
import { solveSchedule } from '../../../src/core/scheduling/index.ts'
import { smallQuestion } from '../division/kitchen.ts'
import { diceFrom } from '../scheduling/random-problems.ts'
import { batch, everything, recipe, starterBatch, step } from './days.ts'

type Dice = ReturnType<typeof diceFrom>

const heated: EquipmentKind[] = ['canner', 'pressure-canner', 'steam-canner', 'burner', 'oven']
const cooledAfter = 120

/**
 * What is wrong with who stands where, from the entries of a timetable and the steps that they are of: the station, the
 * kind of work, the machines and what came before. Nothing of the skills that the schedule was made with is asked.
 */
function faultsOfAge({ kitchen: { helpers }, batches }: DayPlan, entries: readonly Entry[]): string[] {
  return entries.flatMap((entry) => {
    const bands = entry.helpers.map((id) => helpers.find((one) => one.id === id)?.ageBand)
    const where = `${entry.activity}, ${entry.part} from ${entry.from}`
    const faults: string[] = []
    if (bands.includes('child') && isHot({ batches }, entry)) faults.push(`a child at hot work: ${where}`)
    if (bands.includes('child') && isKnives({ batches }, entry)) faults.push(`a child at knives: ${where}`)
    if (bands.includes('teen') && !bands.includes('adult') && isHot({ batches }, entry))
      faults.push(`a teen without an adult at hot work: ${where}`)
    return faults
  })
}

function stepsAt({ batches }: Pick<DayPlan, 'batches'>, entry: Entry) {
  return (batches.find((one) => one.batch.id === entry.batch)?.steps ?? []).map((one) => one.step)
}

function isKnives(plan: Pick<DayPlan, 'batches'>, entry: Entry): boolean {
  const own = entry.step === null ? undefined : stepsAt(plan, entry)[entry.step]
  return own?.station === 'cut' || own?.work === 'cut'
}

/** At the stove, at boiling water or pressure, at anything heated, or pressing or filling what has just come from there. */
function isHot(plan: Pick<DayPlan, 'batches'>, entry: Entry): boolean {
  if (entry.part === 'heat-jars' || entry.machines.some(({ kind }) => heated.includes(kind))) return true
  const steps = stepsAt(plan, entry)
  const own = entry.step === null ? undefined : steps[entry.step]
  if (!own || entry.step === null) return false
  if (own.station === 'stove' || own.station === 'canner') return true
  if (own.equipment.some((kind) => heated.includes(kind))) return true
  if (own.station !== 'fill' && own.station !== 'press') return false
  // What has stood for two hours in all is cold, as is what was rinsed.
  let waited = 0
  for (let at = entry.step - 1; at >= 0; at--) {
    const before = steps[at]
    waited += before?.waitMinutes ?? 0
    if (!before || before.station === 'wash' || waited >= cooledAfter) return false
    if (before.station === 'stove' || before.station === 'canner') return true
    if (before.equipment.some((kind) => heated.includes(kind))) return true
  }
  return false
}

/** Two to six helpers of all ages, half of them with everything ticked; most often an adult is there all day. */
function randomHelpers(dice: Dice, days: Question['days']): Question['helpers'] {
  return Array.from({ length: dice.whole(2, 6) }, (_, number) => {
    const chief = number === 0 && dice.yes(0.85)
    const from = chief ? 480 : dice.whole(16, 24) * 30
    const hours = { fromMinute: from, toMinute: chief ? 1080 : Math.min(1080, from + dice.whole(6, 20) * 30) }
    return {
      id: `helper-${number}`,
      name: `Helper ${number}`,
      ageBand: chief ? 'adult' : dice.oneOf(ageBands),
      skills: chief || dice.yes(0.5) ? everything : everything.filter(() => dice.yes(0.6)),
      hours: days.map(({ id }) => ({ dayId: id, ...hours })),
    }
  })
}

/** A recipe that nobody would cook: any work at any station. */
function oddBatch(dice: Dice, number: number): Batch {
  const steps = Array.from({ length: dice.whole(2, 5) }, () => {
    const station = dice.oneOf(stations.filter((one) => one !== 'freezer'))
    return step({
      station,
      work: dice.oneOf(workKinds),
      hands: dice.whole(1, 3),
      minutes: { perKg: dice.whole(1, 4), perUnit: dice.whole(0, 2) },
      waitMinutes: dice.oneOf([0, 0, 0, 30, 150]),
      equipment: station === 'stove' || dice.yes(0.15) ? ['burner'] : [],
      thenAtOnce: dice.yes(0.35),
    })
  })
  const last = steps.pop()
  return batch(
    recipe(last ? [...steps, { ...last, thenAtOnce: false }] : steps, {}, `odd-${number}`),
    dice.whole(2, 10),
  )
}

/** What the service would plan for a kitchen of one or two days and one to three batches. */
function randomPlan(seed: number): DayPlan {
  const dice = diceFrom(seed)
  const days = Array.from({ length: dice.whole(1, 2) }, (_, day) => {
    return { id: `day-${day}`, date: `2026-09-0${day + 5}`, opensMinute: 480, closesMinute: 1080 }
  })
  const machines = { canner: 2, 'pressure-canner': 1, burner: dice.whole(2, 4), dehydrator: 2, oven: 1, press: 1 }
  const equipment = (Object.entries(machines) as [EquipmentKind, number][]).map(([kind, count]) => {
    return { id: kind, kind, name: kind, count, roomMl: null, aroundTheClock: kind === 'dehydrator', outOn: [] }
  })
  const batches = Array.from({ length: dice.whole(1, 3) }, (_, number) => {
    if (dice.yes(0.4)) return oddBatch(dice, number)
    const starter = dice.oneOf(canBeSettled)
    return starterBatch(starter.key, null, dice.whole(1, 12), dice.whole(0, days.length - 1))
  })
  const question = smallQuestion({ days, equipment, helpers: randomHelpers(dice, days) })
  return activitiesOf(question, [...new Map(batches.map((one) => [one.id, one])).values()])
}

// A recipe of which no pack has a tested process has no pack when it is settled.
const canBeSettled = starters.filter(({ key }) => {
  try {
    return starterBatch(key, null, 1).units === 1
  } catch (error) {
    if (error instanceof Error && error.message.startsWith('no pack')) return false
    throw error
  }
})

const kitchens = 260

function timetableFor(seed: number) {
  const plan = randomPlan(seed)
  return { plan, entries: timetableOf(plan, solveSchedule(plan.problem, { seed, maxSchedules: 8 })).entries }
}

describe('who stands where', { timeout: 120_000 }, () => {
  test(`in ${kitchens} kitchens no child is at hot work or knives, and no teen at hot work without an adult`, () => {
    const seen = { entries: 0, childAtWork: 0, teenAtKnives: 0, teenBesideAdult: 0, hotFilling: 0, pressure: 0, odd: 0 }
    const swapped = { child: 0, teen: 0 }
    for (let seed = 1; seed <= kitchens; seed++) {
      const { plan, entries } = timetableFor(seed)
      expect(faultsOfAge(plan, entries), `kitchen ${seed}`).toEqual([])

      const bandOf = new Map(plan.kitchen.helpers.map(({ id, ageBand }) => [id, ageBand]))
      for (const entry of entries) {
        const bands = entry.helpers.map((id) => bandOf.get(id))
        const hot = isHot(plan, entry) && bands.length > 0
        seen.entries++
        if (bands.includes('child')) seen.childAtWork++
        if (bands.includes('teen') && isKnives(plan, entry)) seen.teenAtKnives++
        if (bands.includes('teen') && hot) seen.teenBesideAdult++
        if (hot && entry.station === 'fill') seen.hotFilling++
        if (hot && entry.machines.some(({ kind }) => kind === 'pressure-canner')) seen.pressure++
        if (entry.batch?.startsWith('odd-')) seen.odd++

        // The same entry with a child, or a teen alone, in it would have been noticed.
        for (const band of ['child', 'teen'] as const) {
          const other = plan.kitchen.helpers.find(({ ageBand }) => ageBand === band)
          if (!hot || !other) continue
          expect(faultsOfAge(plan, [{ ...entry, helpers: [other.id] }]), `kitchen ${seed}`).not.toEqual([])
          swapped[band]++
        }
      }
    }
    const least = {
      entries: 4_000,
      childAtWork: 200,
      teenAtKnives: 100,
      teenBesideAdult: 100,
      hotFilling: 150,
      pressure: 50,
      odd: 600,
    }
    for (const [what, many] of Object.entries(seen) as [keyof typeof least, number][])
      expect(many, what).toBeGreaterThanOrEqual(least[what])
    expect(Math.min(swapped.child, swapped.teen)).toBeGreaterThan(300)
  })
})
