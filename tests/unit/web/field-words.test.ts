import { describe, expect, it } from 'vitest'
import { wordsForTyped } from '../../../src/web/field-words.ts'

const labels = (...names: string[]) => wordsForTyped(names.map((name) => [name, 'typed'])).map(({ label }) => label)

describe('the words for what was typed', () => {
  it.each([
    ['name', 'Name'],
    ['jarsFilled', 'Jars filled'],
    ['take.units', 'Take, units'],
    ['holds.half-pint', 'Holds, half pint'],
    ['supply.citric_acid', 'Supply, citric acid'],
    ['packs.0.runs.11.process', 'Packs 1, runs 12, process'],
    ['pointsPerKg', 'Points per kg'],
    ['materials.2.perKg', 'Materials 3, per kg'],
  ])('%s is %s', (name, label) => {
    expect(labels(name)).toEqual([label])
  })

  it('leave out in what a value is kept, which need not be what was typed, and that it leads to something', () => {
    expect(labels('altitudeM', 'freezerMl', 'headspaceMm', 'temperatureC', 'worthPerKgMinor', 'placeId')).toEqual([
      'Altitude',
      'Freezer',
      'Headspace',
      'Temperature',
      'Worth per kg',
      'Place',
    ])
    expect(labels('m', 'id')).toEqual(['M', 'Id'])
  })

  it('number what goes by an id, in the order of the form', () => {
    expect(
      labels(
        'wish.k7m3q9xw2abc.pint.atLeast',
        'wish.k7m3q9xw2abc.pint.atMost',
        'wish.zz34grape567.quart.atMost',
        'counted.zz34grape567',
      ),
    ).toEqual(['Wish 1, pint, at least', 'Wish 1, pint, at most', 'Wish 2, quart, at most', 'Counted 1'])
  })

  it('are none for what was left empty and for what pages fill in', () => {
    expect(
      wordsForTyped([
        ['_submission', 'k7m3q9xw2abc'],
        ['version', '3'],
        ['note', ' '],
        ['name', 'Porch'],
        ['aloneIn', 'metric'],
        ['days', 'mon'],
        ['days', 'tue'],
        ['go', 'save'],
      ]),
    ).toEqual([
      { label: 'Name', value: 'Porch' },
      { label: 'Days', value: 'mon' },
      { label: 'Days', value: 'tue' },
    ])
  })

  it('number rows that are left empty too, so that the others keep their place', () => {
    expect(
      wordsForTyped([
        ['counted.k7m3q9xw2abc', ''],
        ['counted.zz34grape567', '4'],
      ]),
    ).toEqual([{ label: 'Counted 2', value: '4' }])
  })

  it('are the name itself where it is none of ours', () => {
    expect(labels('', '...', '7', 'k7m3q9xw2abc', '__proto__')).toEqual(['', '...', 'Row 8', 'Row 1', 'Proto'])
  })
})
