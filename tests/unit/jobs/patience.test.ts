import { afterEach, beforeEach, expect, it, vi } from 'vitest'
import { createPatience, type ThreadHung } from '../../../src/jobs/patience.ts'

const graces = { afterTimeMs: 1_000, afterStopMs: 200 }
const lost: string[] = []
const cutOff = ({ message }: ThreadHung) => void lost.push(message)

beforeEach(() => {
  lost.length = 0
  vi.useFakeTimers()
})
afterEach(() => {
  vi.useRealTimers()
})

it('is over once, a grace after the time', () => {
  createPatience(graces).expectWithin(500, cutOff)
  vi.advanceTimersByTime(1_499)
  expect(lost).toEqual([])
  vi.advanceTimersByTime(10_000)
  expect(lost).toEqual(['the thread gave no answer 1 s after its time was over, and was ended'])
})

it('begins anew with each time that is given', () => {
  const patience = createPatience(graces)
  patience.expectWithin(500, cutOff)
  vi.advanceTimersByTime(1_400)
  patience.expectWithin(500, cutOff)
  vi.advanceTimersByTime(1_400)
  expect(lost).toEqual([])
  vi.advanceTimersByTime(100)
  expect(lost).toHaveLength(1)
})

it('after a stop is over a grace later, however long the work may take and whatever more is told', () => {
  const patience = createPatience(graces)
  patience.expectWithin(60_000, cutOff)
  patience.stopAsked()
  vi.advanceTimersByTime(150)
  patience.stopAsked()
  patience.expectWithin(60_000, cutOff)
  vi.advanceTimersByTime(49)
  expect(lost).toEqual([])
  vi.advanceTimersByTime(1)
  expect(lost).toEqual(['the thread gave no answer 0.2 s after it was asked to stop, and was ended'])
  vi.advanceTimersByTime(100_000)
  expect(lost).toHaveLength(1)
})

it('of one that was stopped in line begins when it gets a thread', () => {
  const patience = createPatience(graces)
  patience.stopAsked()
  vi.advanceTimersByTime(100_000)
  patience.expectWithin(60_000, cutOff)
  vi.advanceTimersByTime(199)
  expect(lost).toEqual([])
  vi.advanceTimersByTime(1)
  expect(lost).toHaveLength(1)
})

it('ends with the answer, and leaves no timer that would hold up the process', () => {
  const patience = createPatience(graces)
  patience.expectWithin(500, cutOff)
  patience.stopAsked()
  expect(vi.getTimerCount()).toBe(2)
  patience.end()
  patience.stopAsked()
  patience.expectWithin(500, cutOff)
  expect(vi.getTimerCount()).toBe(0)
  vi.advanceTimersByTime(100_000)
  expect(lost).toEqual([])
})
