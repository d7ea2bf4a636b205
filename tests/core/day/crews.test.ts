import { describe, expect, test } from 'vitest'
import { planDays } from '../../../src/core/day/activities.ts'
import type { Batch } from '../../../src/core/day/batch.ts'
import { crewCost, withBestCrews } from '../../../src/core/day/crews.ts'
import { applyEdits } from '../../../src/core/day/edits.ts'
import type { Helper } from '../../../src/core/day/kitchen.ts'
import type { DayPlan } from '../../../src/core/day/plan.ts'
import { timetableOf } from '../../../src/core/day/timetable.ts'
import { wishesNotMet } from '../../../src/core/day/wishes.ts'
import { type Station, stations } from '../../../src/core/produce/vocabulary.ts'
import { checkSchedule, type Schedule, solveSchedule } from '../../../src/core/scheduling/index.ts'
import { diceFrom } from '../scheduling/random-problems.ts'
import { batch, helper, kitchen, recipe, step } from './days.ts'
import { faultsOf } from './faults.ts'
import { cannerLoad, canning } from './on-paper.ts'
import { randomDays } from './random-kitchen.ts'

/** Ten minutes of one pair of hands for each kilogram, in pieces of an hour. */
function pieces(id: string, station: 'cut' | 'wash', kg: number): Batch {
  return batch(recipe([step({ station, work: station, minutes: { perKg: 10 } })], {}, id), kg)
}

function wishing(id: string, wishes: Pick<Helper, 'stretchMinutes' | 'likes' | 'dislikes'>, more = {}): Helper {
  return { ...helper(id, more), ...wishes }
}

type Who = Record<string, string>

/** The plan of a kitchen, its shortest schedule, and those by hand who are named for a task of one person. */
function byHand(helpers: Helper[], batches: Batch[], who: Who): { plan: DayPlan; schedule: Schedule } {
  const plan = planDays(kitchen({ canner: 1, burner: 2 }, helpers), batches)
  const solved = solveSchedule(plan.problem, { maxSchedules: 200 })
  const named = Object.entries(who).map(([id, name]) => [
    id,
    (solved.people[id] ?? []).map((crew) => crew.map(() => name)),
  ])
  const schedule = { ...solved, people: { ...solved.people, ...Object.fromEntries(named) } }
  expect(checkSchedule(plan.problem, schedule)).toEqual([])
  return { plan, schedule }
}

function best({ plan, schedule }: { plan: DayPlan; schedule: Schedule }, tasks: string[]): (string | undefined)[] {
  const found = withBestCrews(plan, schedule)
  expect(checkSchedule(plan.problem, found)).toEqual([])
  expect(found.start).toEqual(schedule.start)
  return tasks.map((id) => found.people[id]?.[0]?.join(' '))
}

// Two hours of cutting beside two hours of washing, each in two pieces: from 8 to 9 and from 9 to 10.
const [x1, x2] = ['x:bag@0/1/1/1.1', 'x:bag@0/1/1/1.2']
const [y1, y2] = ['y:bag@0/1/1/1.1', 'y:bag@0/1/1/1.2']
const side = [pieces('x', 'cut', 12), pieces('y', 'wash', 12)]
const steady = { [x1]: 'a', [x2]: 'a', [y1]: 'b', [y2]: 'b' }

describe('by their wishes', () => {
  test('who cannot stand so long at one station changes after an hour', () => {
    const made = byHand([wishing('a', { stretchMinutes: 60 }), helper('b')], side, steady)
    expect(wishesNotMet(made.plan, made.schedule)).toEqual([
      { helper: 'a', disliked: [], tooLong: [{ station: 'cut', from: 480, to: 600, longest: 60 }] },
    ])
    const after = best(made, [x1, x2, y1, y2])
    expect([after.slice(0, 2).sort(), after.slice(2).sort()]).toEqual([
      ['a', 'b'],
      ['a', 'b'],
    ])
    expect(wishesNotMet(made.plan, withBestCrews(made.plan, made.schedule))).toEqual([])
  })

  test('with 120 minutes in a stretch nobody changes', () => {
    expect(best(byHand([wishing('a', { stretchMinutes: 120 }), helper('b')], side, steady), [x1, x2])).toEqual([
      'a',
      'a',
    ])
  })

  test('a station that one of two dislikes, or likes, goes to whom it suits', () => {
    const all = [x1, x2, y1, y2]
    expect(best(byHand([wishing('a', { dislikes: ['cut'] }), helper('b')], side, steady), all)).toEqual([...'bbaa'])
    expect(best(byHand([helper('a'), wishing('b', { likes: ['cut'] })], side, steady), all)).toEqual([...'bbaa'])
    expect(best(byHand([wishing('a', { likes: ['cut'] }), helper('b')], side, steady), all)).toEqual([...'aabb'])
  })

  test('a stretch that is too long weighs more than a station that is disliked', () => {
    const made = byHand([wishing('a', { stretchMinutes: 60, dislikes: ['wash'] }), helper('b')], side, steady)
    expect(best(made, [x1, x2]).sort()).toEqual(['a', 'b'])
    expect(wishesNotMet(made.plan, withBestCrews(made.plan, made.schedule))).toEqual([
      { helper: 'a', disliked: [{ station: 'wash', minutes: 60 }], tooLong: [] },
    ])
  })

  test('whoever began goes on', () => {
    const made = byHand([helper('a'), helper('b')], side, { [x1]: 'a', [x2]: 'b', [y1]: 'b', [y2]: 'a' })
    const [first, second, third, fourth] = best(made, [x1, x2, y1, y2])
    expect([first === second, third === fourth, first === third]).toEqual([true, true, false])
  })

  test('work is shared as evenly as it comes', () => {
    // Three hours of cutting one after the other at one counter, two for one of two and one for the other.
    const three = ['x', 'y', 'z'].map((id) => pieces(id, 'cut', 6))
    const plan = planDays({ ...kitchen({}, [helper('a'), helper('b')]), counterPlaces: 1 }, three)
    const solved = solveSchedule(plan.problem, { maxSchedules: 100 })
    const ids = three.map(({ id }) => `${id}/1/1/1.1`)
    const people = { ...solved.people, ...Object.fromEntries(ids.map((id) => [id, [['a']]])) }
    expect(best({ plan, schedule: { ...solved, people } }, ids).filter((who) => who === 'a').length % 3).not.toBe(0)
  })

  test('whoever is there for three hours does less than who is there for nine', () => {
    // Four hours one after the other from 8 on, b is there until 11: by their hours three for a and one for b.
    const four = ['w', 'x', 'y', 'z'].map((id) => pieces(id, 'cut', 6))
    const short = helper('b', { hours: [{ from: 480, to: 660 }] })
    const long = helper('a', { hours: [{ from: 480, to: 1020 }] })
    const plan = planDays({ ...kitchen({}, [long, short]), counterPlaces: 1 }, four)
    const solved = solveSchedule(plan.problem, { maxSchedules: 100 })
    const ids = four.map(({ id }) => `${id}/1/1/1.1`)
    const people = { ...solved.people, ...Object.fromEntries(ids.map((id) => [id, [['a']]])) }
    expect(best({ plan, schedule: { ...solved, people } }, ids).sort()).toEqual([...'aaab'])
  })
})

describe('what cannot be helped', () => {
  test('is said of who is alone, and ten minutes apart are a change', () => {
    const alone = (hours: { from: number; to: number }[]) => {
      const plan = planDays(kitchen({}, [wishing('a', { stretchMinutes: 90 }, { hours })]), [pieces('x', 'cut', 12)])
      return wishesNotMet(plan, withBestCrews(plan, solveSchedule(plan.problem, { maxSchedules: 50 })))
    }
    expect(alone([{ from: 480, to: 1080 }])[0]?.tooLong).toEqual([{ station: 'cut', from: 480, to: 600, longest: 90 }])
    const parted = (minutes: number) => [
      { from: 480, to: 540 },
      { from: 540 + minutes, to: 1080 },
    ]
    // Nine minutes are within the stretch, ten end it.
    expect(alone(parted(9))[0]?.tooLong).toEqual([{ station: 'cut', from: 480, to: 609, longest: 90 }])
    expect(alone(parted(10))).toEqual([])
  })

  test('a child is not relieved of washing by cutting, nor somebody who is away', () => {
    const child = wishing('c', { stretchMinutes: 60 }, { ageBand: 'child' })
    expect(best(byHand([child, helper('b')], side, { [x1]: 'b', [x2]: 'b', [y1]: 'c', [y2]: 'c' }), [x1, x2])).toEqual([
      'b',
      'b',
    ])
    const leaves = helper('b', {
      hours: [
        { from: 480, to: 540 },
        { from: 600, to: 1080 },
      ],
    })
    const made = byHand([wishing('a', { dislikes: ['cut'] }), leaves], [pieces('x', 'cut', 12)], { [x2]: 'a' })
    expect(best(made, [x1, x2])).toEqual(['b', 'a'])
  })

  test('somebody named by an edit stays', () => {
    const plan = planDays(kitchen({}, [wishing('a', { dislikes: ['cut'] }), helper('b')]), side)
    const edited = applyEdits(plan, [{ kind: 'by', activity: x1, helper: 'a' }]).plan
    const schedule = solveSchedule(edited.problem, { maxSchedules: 100 })
    const found = withBestCrews(edited, schedule)
    expect(checkSchedule(edited.problem, found)).toEqual([])
    expect(found.people[x1]).toEqual([['a']])
    expect(found.people[x2]).toEqual([['b']])
  })
})

test('whoever has loaded a canner empties it', () => {
  const loads = batch(recipe(canning, { runs: [cannerLoad] }), 5)
  const plan = planDays(kitchen({ canner: 1, burner: 2 }, [wishing('a', { dislikes: ['canner'] }), helper('b')]), [
    loads,
  ])
  const solved = solveSchedule(plan.problem, { maxSchedules: 100 })
  const id = `${loads.id}/1/1`
  const given = { ...solved, people: { ...solved.people, [id]: [['a'], ['a'], ['a'], [], ['a']] } }
  const found = withBestCrews(plan, given)
  expect(checkSchedule(plan.problem, found)).toEqual([])
  // Cooking, loading and lifting out ask for the same skill.
  expect(found.people[id]?.map(([who]) => who)).toEqual(['b', expect.any(String), 'b', undefined, 'b'])
})

/** Wishes by chance for every helper of a plan. */
function withWishes(plan: DayPlan, seed: number): DayPlan {
  const dice = diceFrom(seed)
  const some = (): Station[] => stations.filter(() => dice.yes(0.2))
  const helpers = plan.kitchen.helpers.map((one) => ({
    ...one,
    stretchMinutes: dice.yes(0.5) ? dice.whole(2, 12) * 15 : null,
    likes: some(),
    dislikes: some(),
  }))
  return { ...plan, kitchen: { ...plan.kitchen, helpers } }
}

/** Of each task and skill who does it in which phases. */
function kept(plan: DayPlan, { people }: Schedule): string[] {
  return plan.activities.flatMap(({ activity: { id, phases } }) => {
    const single = phases.flatMap((phase, number) =>
      phase.people?.length === 1 && phase.people[0]?.count === 1 ? [number] : [],
    )
    return single.flatMap((one) =>
      single.flatMap((other) => {
        const same = phases[one]?.people?.[0]?.skill === phases[other]?.people?.[0]?.skill
        return one < other && same && people[id]?.[one]?.[0] === people[id]?.[other]?.[0]
          ? [`${id} ${one} ${other}`]
          : []
      }),
    )
  })
}

describe('kitchens by chance', () => {
  test.each(Array.from({ length: 80 }, (_, seed) => seed + 1))('kitchen %i', (seed) => {
    const { at, batches } = randomDays(seed)
    const plan = withWishes(planDays(at, batches), seed)
    const schedule = solveSchedule(plan.problem, { seed, maxSchedules: 20 })
    const found = withBestCrews(plan, schedule)
    expect(checkSchedule(plan.problem, found)).toEqual([])
    expect(faultsOf(plan, found, timetableOf(plan, found))).toEqual([])
    expect(found.start).toEqual(schedule.start)
    expect(crewCost(plan, found)).toBeLessThanOrEqual(crewCost(plan, schedule))
    expect(withBestCrews(plan, schedule)).toEqual(found)
    const before = kept(plan, schedule)
    expect(before.filter((one) => !kept(plan, found).includes(one))).toEqual([])
  })
})
