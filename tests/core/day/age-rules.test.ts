import { describe, expect, test } from 'vitest'
import { planDays } from '../../../src/core/day/activities.ts'
import { crewFor, timetableSkills } from '../../../src/core/day/age-rules.ts'
import { timetableOf } from '../../../src/core/day/timetable.ts'
import { solveSchedule } from '../../../src/core/scheduling/index.ts'
import { batch, everything, helper, kitchen, recipe, starterBatch, step } from './days.ts'

describe('skills by age', () => {
  test('a child has neither knives nor anything hot, whatever was ticked', () => {
    expect(timetableSkills('child', everything)).toEqual(['any', 'wash', 'pack'])
  })

  test('a teen may be at hot work but is not the adult in it', () => {
    const skills = timetableSkills('teen', ['stove', 'fill', 'wash'])
    expect(skills).toContain('hot:stove')
    expect(skills).toContain('hot:fill')
    expect(skills.filter((skill) => skill.startsWith('adult:'))).toEqual([])
  })

  test('an adult is both, for the work that he or she does', () => {
    expect(timetableSkills('adult', ['fill'])).toEqual(['any', 'fill', 'hot:fill', 'adult:fill'])
  })

  test('hot work takes an adult first', () => {
    expect(crewFor('fill', 3, true)).toEqual([
      { skill: 'adult:fill', count: 1 },
      { skill: 'hot:fill', count: 2 },
    ])
    expect(crewFor('stove', 1, true)).toEqual([{ skill: 'adult:stove', count: 1 }])
    expect(crewFor('cut', 2, false)).toEqual([{ skill: 'cut', count: 2 }])
  })
})

const stirring = step({ station: 'stove', work: 'stove', hands: 2, equipment: ['burner'], minutes: { perKg: 10 } })

describe('in a timetable', () => {
  test('a teen and an adult stir together', () => {
    // 60 minutes of hands by two: 30.
    const plan = planDays(kitchen({ burner: 1 }, [helper('adult'), helper('teen', { ageBand: 'teen' })]), [
      batch(recipe([stirring]), 6),
    ])
    const { entries } = timetableOf(plan, solveSchedule(plan.problem, { maxSchedules: 50 }))
    const stove = entries.filter(({ station }) => station === 'stove')
    expect(stove.map(({ helpers, from, to }) => [[...helpers].sort(), to - from])).toEqual([[['adult', 'teen'], 30]])
  })

  test('two teens without an adult do not', () => {
    const teens = [helper('x', { ageBand: 'teen' }), helper('y', { ageBand: 'teen' })]
    const plan = planDays(kitchen({ burner: 1 }, teens), [batch(recipe([stirring]), 6)])
    expect(plan.impossible).toEqual([{ batch: 'own:bag@0', step: 0, lacks: 'adult' }])
    expect(plan.activities).toEqual([])
  })

  test('an adult who only washes is not the one beside a teen at the stove', () => {
    const two = [helper('teen', { ageBand: 'teen' }), helper('adult', { skills: ['wash'] })]
    const plan = planDays(kitchen({ burner: 1 }, two), [batch(recipe([stirring]), 6)])
    expect(plan.impossible.map(({ lacks }) => lacks)).toEqual(['adult'])
  })

  test('a teen whose hours are not the adult’s is left out of hot work', () => {
    const hours = [{ from: 720, to: 1080 }]
    const three = [
      helper('adult', { hours: [{ from: 480, to: 720 }] }),
      helper('teen', { ageBand: 'teen', hours }),
      helper('friend', { ageBand: 'teen', hours }),
    ]
    const plan = planDays(kitchen({ burner: 1 }, three), [batch(recipe([stirring]), 6)])
    const { entries } = timetableOf(plan, solveSchedule(plan.problem, { maxSchedules: 50 }))
    expect(entries.filter(({ station }) => station === 'stove').flatMap(({ helpers }) => helpers)).toEqual(['adult'])
  })

  test('a stove is hot without a machine that says so', () => {
    const teen = [helper('teen', { ageBand: 'teen' })]
    const stove = step({ station: 'stove', work: 'stove', minutes: { perKg: 1 } })
    expect(planDays(kitchen({}, teen), [batch(recipe([stove]), 1)]).impossible).toHaveLength(1)
  })

  test('filling what comes from the stove takes an adult who fills, filling what is cold does not', () => {
    const two = [helper('cook', { skills: ['stove'] }), helper('teen', { ageBand: 'teen', skills: ['fill'] })]
    const lacking = (cooking: Partial<ReturnType<typeof step>>) => {
      const stove = step({ station: 'stove', work: 'stove', minutes: { perRun: 10 }, ...cooking })
      const fill = step({ station: 'fill', work: 'fill', minutes: { perUnit: 1 } })
      return planDays(kitchen({ oven: 1 }, two), [batch(recipe([stove, fill]), 3)]).impossible
    }
    const hot = [{ batch: 'own:bag@0', step: 1, lacks: 'adult' }]
    expect(lacking({ thenAtOnce: true }).map(({ lacks }) => lacks)).toEqual(['adult'])
    expect(lacking({})).toEqual(hot)
    expect(lacking({ station: 'oven', equipment: ['oven'], thenAtOnce: true })).toHaveLength(1)
    // Two hours after the stove it is cold: common practice, no source.
    expect(lacking({ waitMinutes: 119 })).toEqual(hot)
    expect(lacking({ waitMinutes: 120 })).toEqual([])
  })

  test('children alone cannot cut', () => {
    const plan = planDays(kitchen({}, [helper('child', { ageBand: 'child' })]), [
      batch(recipe([step({ minutes: { perKg: 1 } })]), 1),
    ])
    expect(plan.impossible).toEqual([{ batch: 'own:bag@0', step: 0, lacks: 'hands' }])
  })

  test('a child loads a dehydrator but not an oven', () => {
    const child = [helper('child', { ageBand: 'child' })]
    const loading = (kind: 'oven' | 'dehydrator') =>
      planDays(kitchen({ [kind]: 1 }, child), [
        batch(
          recipe([step({ station: 'oven', work: 'pack', equipment: [kind], minutes: { perRun: 5 } })], {
            runs: [
              {
                name: 'trays',
                unitsPerRun: 3,
                fillAtLeast: 0,
                machineMinutes: { [kind]: 60 },
                work: {},
                process: false,
              },
            ],
          }),
          3,
        ),
      ]).impossible.length
    expect([loading('dehydrator'), loading('oven')]).toEqual([0, 1])
  })

  test.each([
    ['snap-beans', 'pressure'],
    ['crushed-tomatoes', 'boiling water'],
  ])('teens alone can neither fill nor can %s (%s)', (key) => {
    const teens = [helper('x', { ageBand: 'teen' }), helper('y', { ageBand: 'teen' })]
    const machines = { canner: 1, 'pressure-canner': 1, burner: 3 }
    expect(
      planDays(kitchen(machines, teens), [starterBatch(key, null, 7)]).impossible.map(({ lacks }) => lacks),
    ).toEqual(['adult'])
  })
})
