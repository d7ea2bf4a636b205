import { describe, expect, it } from 'vitest'
import { lookUpProcess, type ProcessQuery, type TestedProcess } from '../../../src/core/process/index.ts'

// Questions with an answer that can be read off the USDA Complete Guide to Home Canning, revised 2015; pages beside each.

const m = (feet: number) => feet * 0.3048

function tested(query: ProcessQuery): TestedProcess {
  const answer = lookUpProcess(query)
  if (answer.answer !== 'tested') throw new Error(`${answer.answer}: ${answer.says}`)
  return answer
}

describe('the examples of the guide itself', () => {
  const peaches = { product: 'peaches', pack: 'hot', jar: 'quart', altitudeM: m(2500) }

  it('takes 30 minutes for hot-packed peaches in quarts at 2,500 ft in boiling water (Guide 1 p. 1-23, example A)', () => {
    expect(tested({ ...peaches, method: 'boiling-water' })).toMatchObject({ minutes: 30, psi: null, kPa: null })
  })

  it('takes 10 minutes at 7 psi on a dial gauge (Guide 1 p. 1-24, example B)', () => {
    const answer = tested({ ...peaches, method: 'pressure-canned', gauge: 'dial' })
    expect(answer).toMatchObject({ minutes: 10, psi: 7 })
    expect(answer.kPa).toBeCloseTo(48.263, 3)
  })

  it('takes 10 minutes at 10 psi on a weighted gauge (Guide 1 p. 1-24, example C)', () => {
    expect(tested({ ...peaches, method: 'pressure-canned', gauge: 'weighted' })).toMatchObject({ minutes: 10, psi: 10 })
  })
})

describe('rows of the tables', () => {
  it('takes 35 minutes for hot-packed pears in quarts at 5,000 ft (Guide 2 p. 2-20)', () => {
    const answer = tested({ product: 'pears', pack: 'hot', jar: 'quart', altitudeM: m(5000), method: 'boiling-water' })
    expect(answer.minutes).toBe(35)
  })

  it('takes 20 minutes for applesauce in pints at 3,500 ft, where the flat rule would say 25 (Guide 2 p. 2-8)', () => {
    const answer = tested({ product: 'applesauce', jar: 'pint', altitudeM: m(3500), method: 'boiling-water' })
    expect(answer.minutes).toBe(20)
  })

  it.each([
    [1000, 20],
    [1001, 25],
    [3000, 25],
    [3001, 30],
    [6000, 30],
    [6001, 35],
  ])(
    'changes the time of sliced apples at the edges of its bands: %i ft, %i minutes (Guide 2 p. 2-7)',
    (ft, minutes) => {
      expect(
        tested({ product: 'apples', pack: 'hot', jar: 'pint', altitudeM: m(ft), method: 'boiling-water' }).minutes,
      ).toBe(minutes)
    },
  )
})

describe('steam canners (fact sheet of the National Center, with Guide 3 p. 3-8)', () => {
  const tomatoes = { product: 'tomatoes, crushed', jar: 'pint', method: 'steam' }

  it('may heat crushed tomatoes in pints for 40 minutes at 2,500 ft', () => {
    const answer = tested({ ...tomatoes, altitudeM: m(2500) })
    expect(answer).toMatchObject({ minutes: 40, method: 'steam' })
    expect(answer.source.document).toBe('steam-canners')
  })

  it('may not at 7,000 ft, where it takes 50 minutes and 45 is the limit', () => {
    expect(lookUpProcess({ ...tomatoes, altitudeM: m(7000) })).toMatchObject({
      answer: 'refused',
      reason: 'too-long-for-steam',
    })
  })
})

describe('acid', () => {
  it('is 14 tablespoons of lemon juice, 3.5 teaspoons of citric acid or 28 tablespoons of vinegar for 7 quarts of tomatoes (Guide 3 p. 3-5)', () => {
    const answer = tested({ product: 'tomatoes, crushed', jar: 'quart', altitudeM: 0, method: 'boiling-water' })
    expect(answer.acid.map(({ acid, amount, unit }) => [acid, amount * 7, unit])).toEqual([
      ['bottled-lemon-juice', 14, 'tbsp'],
      ['citric-acid', 3.5, 'tsp'],
      ['vinegar-5', 28, 'tbsp'],
    ])
  })
})

describe('what must be refused', () => {
  it.each(['pint', 'quart'])('plain green beans in boiling water, in a %s (Guide 1 p. 1-8)', (jar) => {
    const answer = lookUpProcess({ product: 'green beans', jar, altitudeM: 0, method: 'boiling water' })
    expect(answer).toMatchObject({ answer: 'refused', reason: 'low-acid' })
    expect(answer.answer === 'refused' && answer.instead.join()).toContain('pressure canner')
  })

  it('raw-packed pears (Guide 2 p. 2-20)', () => {
    const pears = { product: 'pears', pack: 'raw', jar: 'quart', altitudeM: 0, method: 'boiling-water' }
    expect(lookUpProcess(pears)).toMatchObject({ answer: 'refused', reason: 'pack-not-tested' })
  })

  it('raw-packed apples (Guide 2 p. 2-7)', () => {
    const apples = { product: 'apples', pack: 'raw', jar: 'quart', altitudeM: 0, method: 'boiling-water' }
    expect(lookUpProcess(apples)).toMatchObject({ answer: 'refused', reason: 'pack-not-tested' })
  })

  it('applesauce in half-gallons (Guide 2 p. 2-8)', () => {
    const sauce = { product: 'applesauce', jar: 'half-gallon', altitudeM: 0, method: 'boiling-water' }
    expect(lookUpProcess(sauce)).toMatchObject({ answer: 'refused', reason: 'jar-too-large' })
  })
})
