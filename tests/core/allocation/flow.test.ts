import { expect, it } from 'vitest'
import { flowNetwork } from '../../../src/core/allocation/flow.ts'

it('sends the most there is room for, the cheapest way, in whole units', () => {
  // From 0 to 3 by 1 (cost 5, room 3) or by 2 (cost 1, room 2): five in all, two of them the cheap way first.
  const network = flowNetwork(4)
  const dear = network.arc(0, 1, 3, 5)
  const cheap = network.arc(0, 2, 2, 1)
  network.arc(1, 3, 2)
  network.arc(2, 3, 9)
  const across = network.arc(1, 2, 1)
  expect(network.send(0, 3)).toBe(5)
  expect([dear, cheap, across].map((arc) => network.flow(arc))).toEqual([3, 2, 1])
})

it('takes back what went the wrong way', () => {
  // The cheapest first path (0-1-2-3) blocks the second; it has to be undone on 1-2.
  const network = flowNetwork(4)
  network.arc(0, 1, 1, 1)
  network.arc(0, 2, 1, 4)
  const middle = network.arc(1, 2, 1, 1)
  network.arc(1, 3, 1, 4)
  network.arc(2, 3, 1, 1)
  expect(network.send(0, 3)).toBe(2)
  expect(network.flow(middle)).toBe(0)
})

it('refuses costs that are not whole, which could make it run in circles', () => {
  expect(() => flowNetwork(2).arc(0, 1, 1, 0.1)).toThrow('not whole')
})
