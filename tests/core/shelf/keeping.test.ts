import { expect, test } from 'vitest'
import { keepings, keepsIn, placeKinds } from '../../../src/core/shelf/index.ts'

// common practice: what was frozen stays frozen, what needs the cold stays in it, sealed glass does not go in a freezer
test('each way of keeping has its places', () => {
  const allowed = Object.fromEntries(keepings.map((one) => [one, placeKinds.filter((kind) => keepsIn(one, kind))]))
  expect(allowed).toEqual({
    shelf: ['pantry', 'cellar', 'refrigerator'],
    refrigerator: ['freezer', 'refrigerator'],
    freezer: ['freezer'],
    dry: ['pantry', 'cellar', 'freezer', 'refrigerator'],
  })
})
